using EarCoach.Core.Passages;

namespace EarCoach.Core.Judging;

/// <summary>The time from one onset to the next.</summary>
/// <param name="From">The note it belongs to.</param>
/// <param name="To">The note that ends it.</param>
internal readonly record struct RhythmInterval(RhythmOnset From, RhythmOnset To)
{
    /// <summary>Quarter notes as written: what makes its class.</summary>
    public Fraction Written => To.Written - From.Written;

    /// <summary>Seconds as written, at the tempo of the attempt.</summary>
    public double DueSeconds => To.DueSeconds - From.DueSeconds;

    /// <summary>Seconds as heard.</summary>
    public double HeardSeconds => To.HeardSeconds!.Value - From.HeardSeconds!.Value;

    /// <summary>How much longer than written: 1 is exactly as written.</summary>
    public double Stretch => HeardSeconds / DueSeconds;
}
