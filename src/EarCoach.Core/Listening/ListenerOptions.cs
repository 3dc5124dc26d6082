namespace EarCoach.Core.Listening;

/// <summary>Settings of a <see cref="Listener"/>, fixed for its life.</summary>
public sealed record ListenerOptions
{
    /// <summary>Samples a second of the stream, 16,000 to 192,000.</summary>
    public required int SampleRateHz { get; init; }

    /// <summary>Lowest pitch that must be told, in hertz.</summary>
    public double LowestPitchHz { get; init; } = 38;

    /// <summary>Highest pitch that must be told, in hertz.</summary>
    public double HighestPitchHz { get; init; } = 4_700;

    /// <summary>Time from frame to frame, in milliseconds.</summary>
    public double HopMs { get; init; } = 5;

    /// <summary>Lowest pitch that is likely, in hertz: sets the window (2.5 of its periods); lower ones down to LowestPitchHz are heard less well.</summary>
    public double LikelyLowestPitchHz { get; init; } = 38;

    /// <summary>Every broken rule, in words.</summary>
    public IEnumerable<string> Problems()
    {
        foreach (string problem in SoundLimits.Problems(SampleRateHz, LowestPitchHz, HighestPitchHz, HopMs, leastHopMs: 1))
        {
            yield return problem;
        }

        if (!(LikelyLowestPitchHz >= LowestPitchHz && LikelyLowestPitchHz <= HighestPitchHz))
        {
            yield return $"LikelyLowestPitchHz is {LikelyLowestPitchHz}; it must lie between LowestPitchHz ({LowestPitchHz}) and HighestPitchHz ({HighestPitchHz}).";
        }
    }
}
