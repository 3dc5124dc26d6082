namespace EarCoach.Core.Passages;

/// <summary>From here on, this metre.</summary>
/// <param name="At">Quarter notes from the start of the passage.</param>
/// <param name="Beats">The upper number.</param>
/// <param name="BeatType">The lower number: 1, 2, 4, 8, 16, 32 or 64.</param>
public sealed record MeterMark(Fraction At, int Beats, int BeatType)
{
    /// <summary>Length of a full bar in quarter notes.</summary>
    public Fraction BarLength => new(4L * Beats, BeatType);

    /// <summary>Length of one unit of the lower number in quarter notes.</summary>
    public Fraction BeatLength => new(4, BeatType);
}
