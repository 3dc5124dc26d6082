using EarCoach.Core.Tests.Listening;

namespace EarCoach.Core.Tests.Ears;

/// <summary>The echo of a room, made by arithmetic.</summary>
internal static class Hall
{
    private const int Echoes = 500;

    /// <summary>
    /// Adds 500 echoes at moments of chance, each up or down, that fall by 60 dB in the reverberation time (velvet noise: Karjalainen and
    /// Jarvelainen 2007) and carry together an eighth of the power of what came straight.
    /// </summary>
    public static void AddEcho(float[] sound, double reverberationSeconds, uint seed)
    {
        float[] chance = Tones.Noise(1, ((2.0 * Echoes) + 2) / Playing.RateHz, Playing.RateHz, seed);
        float[] dry = [.. sound];
        double gap = reverberationSeconds * Playing.RateHz / Echoes;
        double power = Enumerable.Range(0, Echoes).Sum(k => Math.Pow(10, -6.0 * k / Echoes));
        for (int k = 0; k < Echoes; k++)
        {
            int delay = (int)((0.008 * Playing.RateHz) + (gap * (k + (0.5 * (1 + chance[2 * k])))));
            float gain = (float)(Math.Sign(chance[(2 * k) + 1]) * Math.Pow(10, -3.0 * k / Echoes) * Math.Sqrt(0.125 / power));
            for (int i = delay; i < dry.Length; i++)
            {
                sound[i] += gain * dry[i - delay];
            }
        }
    }
}
