namespace EarCoach.Core.Listening;

/// <summary>What every analysis of a stream asks of its settings.</summary>
internal static class SoundLimits
{
    /// <summary>Every broken rule, in words that name the settings as the option types do.</summary>
    public static IEnumerable<string> Problems(int sampleRateHz, double lowestPitchHz, double highestPitchHz, double hopMs, int leastHopMs)
    {
        if (sampleRateHz is < 16_000 or > 192_000)
        {
            yield return $"SampleRateHz is {sampleRateHz}; it must be 16000 to 192000. Record at 44100 or 48000.";
        }

        if (!(lowestPitchHz >= 20 && lowestPitchHz < highestPitchHz))
        {
            yield return $"LowestPitchHz is {lowestPitchHz}; it must be at least 20 and below HighestPitchHz ({highestPitchHz}).";
        }

        if (!(highestPitchHz <= sampleRateHz / 3.0))
        {
            yield return $"HighestPitchHz is {highestPitchHz}; at {sampleRateHz} samples a second at most {sampleRateHz / 3.0:F0} can be told. Use a higher sample rate.";
        }

        if (!(hopMs >= leastHopMs && hopMs <= 50))
        {
            yield return $"HopMs is {hopMs}; it must be {leastHopMs} to 50.";
        }
    }
}
