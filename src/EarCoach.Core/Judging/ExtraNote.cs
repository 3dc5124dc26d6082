namespace EarCoach.Core.Judging;

/// <summary>A sound that the task lacks: a re-strike, or a note between notes.</summary>
/// <param name="OnsetSeconds">Seconds on the capture clock.</param>
/// <param name="HeardMidi">Fractional MIDI number.</param>
/// <param name="AfterIndex">The note of the task within or after which it sounded.</param>
public sealed record ExtraNote(double OnsetSeconds, double HeardMidi, int AfterIndex);
