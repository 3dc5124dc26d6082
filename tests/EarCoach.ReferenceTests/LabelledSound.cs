namespace EarCoach.ReferenceTests;

/// <summary>A sound, its labels, and the range of the instrument that made it.</summary>
internal sealed record LabelledSound(string Name, Sound Sound, IReadOnlyList<LabelledNote> Notes, int LowestMidi, int HighestMidi);
