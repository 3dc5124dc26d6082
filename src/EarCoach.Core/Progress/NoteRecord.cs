namespace EarCoach.Core.Progress;

/// <summary>How a note of a passage has fared.</summary>
/// <param name="NoteIndex">Which note of the passage, from 0.</param>
/// <param name="Played">In how many counted attempts it was asked for.</param>
/// <param name="Faulty">In how many of them it was faulty.</param>
public sealed record NoteRecord(int NoteIndex, int Played, int Faulty);
