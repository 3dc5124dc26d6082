namespace EarCoach.ReferenceTests;

/// <summary>A note as people, or the maker of a recording, labelled it.</summary>
/// <param name="OnsetSeconds">Where it begins.</param>
/// <param name="OffsetSeconds">Where it ends.</param>
/// <param name="Midi">Fractional MIDI number.</param>
internal sealed record LabelledNote(double OnsetSeconds, double OffsetSeconds, double Midi);
