using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Power of a note's own harmonics through a stretch of sound: of those that the pitch before it lacks, or of all where it has the same.</summary>
internal sealed class OwnHarmonics
{
    /// <summary>From moment to moment.</summary>
    public const double StepSeconds = 0.004;

    private const double HighestHz = 5000;
    private const int MostHarmonics = 14;
    private const int EnoughHarmonics = 4;
    private const double HalfWindowSeconds = 0.020;
    private const double LongestHalfWindowSeconds = 0.050;
    private const double ShortHalfWindowSeconds = 0.012; // where no neighbouring harmonic must be told apart
    private const double Faintest = 1e-13;               // power that only digital silence lies below
    private const double HeardShare = 1e-3;              // of two sounds: what lies 30 dB below the strongest is as likely the other one
    private readonly double[][] _sums;

    private OwnHarmonics(double[][] sums, double windowSteps)
    {
        _sums = sums;
        WindowSteps = windowSteps;
    }

    /// <summary>How many moments there are.</summary>
    public int Count => _sums[0].Length - 1;

    /// <summary>How many harmonics.</summary>
    public int Harmonics => _sums.Length;

    /// <summary>Moments that share one window: so many of them count as one observation.</summary>
    public double WindowSteps { get; }

    /// <summary>Measures a stretch.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="fromSeconds">Its first moment.</param>
    /// <param name="toSeconds">Its last moment.</param>
    /// <param name="midi">The note's pitch.</param>
    /// <param name="before">The pitch before it; null: the same.</param>
    /// <returns>Null when no harmonic can be told from those of the pitch before.</returns>
    public static OwnHarmonics? Measure(RegionSound sound, double fromSeconds, double toSeconds, double midi, double? before)
    {
        double rate = sound.AnalysisRateHz;
        double hz = EqualTemperament.HzOf(midi);
        double top = Math.Min(HighestHz, 0.45 * rate);
        int kinds = Math.Min(MostHarmonics, (int)(top / hz));
        double half = before is null ? Math.Max(ShortHalfWindowSeconds, 1 / hz) : Math.Max(HalfWindowSeconds, 1.5 / hz);
        List<double> own = FrequenciesHz(hz, before, kinds, 1 / half);
        while (before is not null && own.Count < Math.Min(EnoughHarmonics, kinds) && half < LongestHalfWindowSeconds)
        {
            half *= 1.25; // a longer window tells nearer neighbours apart
            own = FrequenciesHz(hz, before, kinds, 1 / half);
        }

        int count = (int)((toSeconds - fromSeconds) / StepSeconds) + 1;
        if (own.Count == 0 || count < 8)
        {
            return null;
        }

        double[] window = HannWindow.Around((int)(half * rate));
        double step = StepSeconds * rate;
        float[] samples = new float[(int)((count - 1) * step) + window.Length];
        sound.Samples.CopyTo((long)(fromSeconds * rate) - (window.Length / 2), samples);
        double[][] powers = [.. own.Select(f => Powers(samples, step, count, window, f / rate))];
        double faintest = before is null ? Faintest : Faintest + (HeardShare * powers.Max(p => p.Max()));
        return new OwnHarmonics([.. powers.Select(p => Sums(p, faintest))], 1.5 * half / StepSeconds);
    }

    /// <summary>Mean power of a harmonic from one moment to before another.</summary>
    public double Mean(int harmonic, int from, int to) => (_sums[harmonic][to] - _sums[harmonic][from]) / (to - from);

    private static double[] Powers(float[] samples, double step, int count, double[] window, double cyclesPerSample)
    {
        var probe = new HarmonicProbe(window, cyclesPerSample);
        double scale = 4.0 / ((double)window.Length * window.Length);
        var powers = new double[count];
        for (int t = 0; t < count; t++)
        {
            powers[t] = scale * probe.PowerOf(samples.AsSpan((int)(t * step), window.Length));
        }

        return powers;
    }

    private static double[] Sums(double[] powers, double faintest)
    {
        var sums = new double[powers.Length + 1];
        for (int t = 0; t < powers.Length; t++)
        {
            sums[t + 1] = sums[t] + powers[t] + faintest;
        }

        return sums;
    }

    /// <summary>The harmonics of a note that stand apart from those of the pitch before it.</summary>
    /// <param name="hz">The note's fundamental.</param>
    /// <param name="before">The pitch before it; null: all stand apart.</param>
    /// <param name="kinds">How many harmonics are looked at.</param>
    /// <param name="apartHz">How far apart: the half-width of the window's main lobe.</param>
    public static List<double> FrequenciesHz(double hz, double? before, int kinds, double apartHz)
    {
        IEnumerable<double> all = Enumerable.Range(1, kinds).Select(k => k * hz);
        return [.. before is { } old ? all.Where(f => StandsApart(f, old, apartHz)) : all];
    }

    /// <summary>Whether a frequency stands apart from each harmonic of another pitch.</summary>
    /// <param name="hz">The frequency.</param>
    /// <param name="other">The other pitch.</param>
    /// <param name="apartHz">How far apart.</param>
    public static bool StandsApart(double hz, double other, double apartHz)
    {
        double otherHz = EqualTemperament.HzOf(other);
        return Math.Abs(hz - (otherHz * Math.Max(1, Math.Round(hz / otherHz)))) > apartHz;
    }
}
