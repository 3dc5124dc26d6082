namespace EarCoach.Scores.Midi;

/// <summary>One line to choose from a Standard MIDI File: the notes of one channel in one track.</summary>
/// <param name="Track">Track, counted from 1 in the order of the file.</param>
/// <param name="Channel">Channel, 1 to 16.</param>
/// <param name="Name">Name of the track, or null.</param>
/// <param name="Program">General MIDI program, 1 to 128, or null when the file sets none.</param>
/// <param name="NoteCount">How many notes begin.</param>
/// <param name="Lowest">Lowest MIDI number.</param>
/// <param name="Highest">Highest MIDI number.</param>
public sealed record MidiPart(int Track, int Channel, string? Name, int? Program, int NoteCount, int Lowest, int Highest);
