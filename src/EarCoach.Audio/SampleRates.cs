using System.Globalization;

namespace EarCoach.Audio;

/// <summary>The sample rates that the ear can work with.</summary>
public static class SampleRates
{
    /// <summary>Lowest rate in hertz.</summary>
    public const int LowestHz = 16_000;

    /// <summary>Highest rate in hertz.</summary>
    public const int HighestHz = 192_000;

    /// <summary>Lets a usable rate pass.</summary>
    /// <exception cref="AudioException">The rate lies outside.</exception>
    internal static void Check(string name, long rateHz)
    {
        if (rateHz is < LowestHz or > HighestHz)
        {
            throw new AudioException(AudioFailure.UnsupportedRate, string.Create(CultureInfo.InvariantCulture,
                $"{name} has {rateHz} samples a second; {LowestHz} to {HighestHz} can be heard. Record at 44100 or 48000, or convert it."));
        }
    }
}
