namespace EarCoach.Scores.Midi;

/// <summary>A note as a file holds it.</summary>
/// <param name="Start">Ticks from the start of the file.</param>
/// <param name="End">Ticks from the start of the file; null: never ended.</param>
/// <param name="Channel">1 to 16.</param>
/// <param name="Pitch">MIDI number.</param>
internal readonly record struct SmfNote(long Start, long? End, int Channel, int Pitch);
