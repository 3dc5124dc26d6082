namespace EarCoach.Core.Passages;

/// <summary>From here on, this metre.</summary>
/// <param name="At">Quarter notes from the start of the passage.</param>
/// <param name="Beats">The upper number.</param>
/// <param name="BeatType">The lower number: 1, 2, 4, 8, 16, 32 or 64.</param>
public sealed record MeterMark(Fraction At, int Beats, int BeatType);
