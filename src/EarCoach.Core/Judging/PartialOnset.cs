using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Places an onset by the harmonics that only the new note has: the echo of the last one may ring as loud as it likes.</summary>
internal static class PartialOnset
{
    private const double HalfWindowSeconds = 0.020;
    private const double StepSeconds = 0.002;
    private const int MostHarmonics = 12;
    private const double HighestHz = 5000;

    /// <summary>Looks for the rise of a note's own harmonics.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="from">Nothing earlier belongs to it; clock of the analysed samples.</param>
    /// <param name="to">By here it sounds.</param>
    /// <param name="end">Where it ends.</param>
    /// <param name="midi">Its pitch.</param>
    /// <param name="before">The pitch before it.</param>
    /// <returns>Null when no harmonic of its own can be told from those of the pitch before.</returns>
    public static Rise? Find(RegionSound sound, double from, double to, double end, double midi, double before)
    {
        double rate = sound.AnalysisRateHz;
        double hz = EqualTemperament.HzOf(midi);
        int half = (int)(rate * Math.Max(HalfWindowSeconds, 1.5 / hz));
        int kinds = Math.Min(MostHarmonics, (int)(Math.Min(HighestHz, 0.45 * rate) / hz));
        List<double> own = OwnHarmonics.FrequenciesHz(hz, before, kinds, 2 * rate / ((2 * half) + 1));
        double step = StepSeconds * rate;
        int count = (int)((Math.Min(to + (0.1 * rate), end) - from) / step);
        int sure = (int)((to - from) / step);
        if (own.Count == 0 || count < 20 || sure < 5 || count - sure < 5)
        {
            return null;
        }

        var amplitude = new double[count];
        float[] samples = new float[(int)(count * step) + (2 * half) + 2];
        sound.Samples.CopyTo((long)from - half, samples);
        double[] window = HannWindow.Around(half);
        foreach (double frequency in own)
        {
            var probe = new HarmonicProbe(window, frequency / rate);
            for (int t = 0; t < count; t++)
            {
                amplitude[t] += probe.PowerOf(samples.AsSpan((int)(t * step), window.Length));
            }
        }

        for (int t = 0; t < count; t++)
        {
            amplitude[t] = Math.Sqrt(amplitude[t]);
        }

        double[] after = [.. amplitude[sure..].Order()];
        double top = after[after.Length / 2];
        int quietest = 0;
        for (int t = 1; t <= sure; t++)
        {
            quietest = amplitude[t] <= amplitude[quietest] ? t : quietest;
        }

        double bottom = amplitude[quietest];
        double Crossing(double share)
        {
            int crossing = sure;
            while (crossing > quietest && amplitude[crossing - 1] >= bottom + (share * (top - bottom)))
            {
                crossing--;
            }

            return from + (crossing * step);
        }

        return new Rise(Crossing(0.1), Crossing(0.3), Crossing(0.5), 20 * Math.Log10((top + 1e-9) / (bottom + 1e-9)));
    }

    /// <summary>A rise.</summary>
    /// <param name="Tenth">Where it has come a tenth of its way, in amplitude, on the clock of the analysed samples.</param>
    /// <param name="Third">Where three tenths.</param>
    /// <param name="Half">Where half.</param>
    /// <param name="ContrastDb">How far it goes.</param>
    internal readonly record struct Rise(double Tenth, double Third, double Half, double ContrastDb);
}
