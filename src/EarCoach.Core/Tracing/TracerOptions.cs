using EarCoach.Core.Listening;

namespace EarCoach.Core.Tracing;

/// <summary>Settings of a <see cref="PitchTracer"/>, fixed for its life.</summary>
public sealed record TracerOptions
{
    /// <summary>Samples a second of the stream, 16,000 to 192,000.</summary>
    public required int SampleRateHz { get; init; }

    /// <summary>Lowest pitch that is looked for, in hertz; sets the window (2.6 of its periods). 38 lies below a tuba's lowest E (41.2).</summary>
    public double LowestPitchHz { get; init; } = 38;

    /// <summary>Highest pitch that is looked for, in hertz. 4,700 lies above a piccolo's highest C (4186).</summary>
    public double HighestPitchHz { get; init; } = 4_700;

    /// <summary>Time from frame to frame, in milliseconds; rounded so that it is a whole number of analysed samples.</summary>
    public double HopMs { get; init; } = 10;

    /// <summary>Every broken rule, in words.</summary>
    public IEnumerable<string> Problems() => SoundLimits.Problems(SampleRateHz, LowestPitchHz, HighestPitchHz, HopMs, leastHopMs: 2);
}
