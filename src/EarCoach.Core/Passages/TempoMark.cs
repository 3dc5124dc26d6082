namespace EarCoach.Core.Passages;

/// <summary>From here on, this tempo.</summary>
/// <param name="At">Quarter notes from the start of the passage.</param>
/// <param name="QuartersPerMinute">Quarter notes a minute; more than 0.</param>
public sealed record TempoMark(Fraction At, double QuartersPerMinute);
