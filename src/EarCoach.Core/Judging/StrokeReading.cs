namespace EarCoach.Core.Judging;

/// <summary>What speaks for a second stroke at one place of a note.</summary>
/// <param name="FallDb">How far the harmonics fall together and the whole sound with them, whichever is less.</param>
/// <param name="LesserFallDb">How far even the quarter of them falls that falls least.</param>
/// <param name="Gain">
/// How much better three steady parts with steps between describe the harmonics than a smooth course does: logarithm of the ratio of what they
/// leave over, both with three numbers a harmonic.
/// </param>
internal readonly record struct StrokeReading(double FallDb, double LesserFallDb, double Gain)
{
    /// <summary>Says nothing.</summary>
    public static StrokeReading None => new(double.NegativeInfinity, double.NegativeInfinity, double.NegativeInfinity);

    /// <summary>The stronger of two readings, each number for itself.</summary>
    public StrokeReading Or(StrokeReading other) => new(
        Math.Max(FallDb, other.FallDb), Math.Max(LesserFallDb, other.LesserFallDb), Math.Max(Gain, other.Gain));
}
