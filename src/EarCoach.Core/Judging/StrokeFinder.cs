using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Finds where a note is struck again: all its harmonics fall together for a few hundredths of a second and come back.</summary>
/// <remarks>
/// A swell is slower, a beat between two sounds hollows out some harmonics and lifts others, and a tone that flickers does so all the
/// time. So the weight of a notch is its depth, in the level and in the harmonics alike, how deep even the lesser harmonics fall, how many
/// there are to say so, and how much deeper it is than any other notch of the note: a logistic regression over 9,900 notes of several
/// instruments and rooms, 75 of them struck again.
/// </remarks>
internal static class StrokeFinder
{
    private const double StepSeconds = 0.002;
    private const double FlankSeconds = 0.016;
    private const double LeastSeconds = 0.22;      // a shorter note has no room for a second stroke
    private const double AfterOnsetSeconds = 0.03;
    private const double BeforeEndSeconds = 0.02;
    private const double ApartSeconds = 0.06;
    private const int MostHarmonics = 10;
    private const double QuietDb = 25;             // harmonics so far below the strongest say nothing
    private const double LeastHoleSeconds = 0.018; // a shorter one is a fault of the line, not of the tongue: browsers lose 10 ms now and then
    private const double LeastWeight = 1.7;
    private static readonly double[] _halfHoles = [0.016, 0.022, 0.030]; // seconds

    /// <summary>Looks for a second stroke.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="onset">Where the note begins, on the clock of the analysed samples.</param>
    /// <param name="end">Where it ends.</param>
    /// <param name="midi">Its pitch.</param>
    /// <returns>Where the level has come half-way back, on that clock; null when there is none.</returns>
    public static double? Find(RegionSound sound, double onset, double end, double midi)
    {
        double rate = sound.AnalysisRateHz;
        double hz = EqualTemperament.HzOf(midi);
        if (end - onset < LeastSeconds * rate)
        {
            return null;
        }

        double from = onset + (AfterOnsetSeconds * rate);
        double step = StepSeconds * rate;
        int count = (int)((end - (BeforeEndSeconds * rate) - from) / step);
        (double[] level, double[][] harmonics, double[] weights) = Levels(sound, from, step, count, hz);
        var joint = new double[count];
        var lesser = new double[count];
        Array.Fill(joint, double.NegativeInfinity);
        foreach (double half in _halfHoles)
        {
            Measure(level, harmonics, weights, (int)(half / StepSeconds), joint, lesser);
        }

        int best = Array.IndexOf(joint, joint.Max());
        int apart = (int)(ApartSeconds / StepSeconds);
        double other = 0;
        for (int t = 0; t < count; t++)
        {
            if (Math.Abs(t - best) >= apart)
            {
                other = Math.Max(other, joint[t]);
            }
        }

        double weight = (1.30 * joint[best]) + (0.45 * Math.Clamp(lesser[best], -5, 10)) - (0.72 * other) + (0.76 * Math.Min(harmonics.Length, 8)) - 12.1;
        if (!(weight > LeastWeight))
        {
            return null;
        }

        int near = (int)(0.05 / StepSeconds);
        double top = Math.Min(level.Skip(best).Take(near).Max(), level.Skip(Math.Max(0, best - near)).Take(near).Max());
        double middle = 0.5 * (level[best] + top);
        int rise = best;
        while (rise < count - 1 && level[rise] < middle)
        {
            rise++;
        }

        int fall = best;
        while (fall > 0 && level[fall] < middle)
        {
            fall--;
        }

        return (rise - fall) * StepSeconds < LeastHoleSeconds ? null : from + (rise * step);
    }

    /// <summary>Level and harmonics in dB at each step, and how much each harmonic counts; those that are too weak are left out.</summary>
    private static (double[] Level, double[][] Harmonics, double[] Weights) Levels(RegionSound sound, double from, double step, int count, double hz)
    {
        double rate = sound.AnalysisRateHz;
        int half = (int)(rate * Math.Max(0.007, 1 / hz));
        int kinds = Math.Clamp((int)(Math.Min(6000, 0.45 * rate) / hz), 1, MostHarmonics);
        int width = (2 * half) + 1;
        float[] samples = new float[(int)((count - 1) * step) + width + 1];
        sound.Samples.CopyTo((long)from - half, samples);

        double[] window = HannWindow.Around(half);
        float[] squares = [.. window.Select(w => (float)w * (float)w)];
        float[] energies = [.. samples.Select(x => x * x)];
        HarmonicProbe[] probes = [.. Enumerable.Range(1, kinds).Select(k => new HarmonicProbe(window, k * hz / rate))];
        var level = new double[count];
        double[][] harmonics = [.. Enumerable.Range(0, kinds).Select(_ => new double[count])];
        double whole = squares.Sum();
        for (int t = 0; t < count; t++)
        {
            int at = (int)(t * step);
            level[t] = 10 * Math.Log10((SampleProduct.Of(energies.AsSpan(at, width), squares) / whole) + 1e-12);
            ReadOnlySpan<float> part = samples.AsSpan(at, width);
            for (int k = 0; k < kinds; k++)
            {
                harmonics[k][t] = 20 * Math.Log10((Math.Sqrt(probes[k].PowerOf(part)) / half) + 1e-6);
            }
        }

        double[] usual = [.. harmonics.Select(h => h.Order().ElementAt(count / 2))];
        int[] heard = [.. Enumerable.Range(0, kinds).Where(k => usual[k] > usual.Max() - QuietDb)];
        return (level, [.. heard.Select(k => harmonics[k])], [.. heard.Select(k => Math.Clamp((usual[k] - usual.Max() + QuietDb) / QuietDb, 0.2, 1))]);
    }

    private static void Measure(double[] level, double[][] harmonics, double[] weights, int half, double[] joint, double[] lesser)
    {
        int count = level.Length;
        int flank = (int)(FlankSeconds / StepSeconds);
        int away = half + (flank / 2);
        double total = weights.Sum();
        double[] levelDepth = Depth(level, away, flank);
        double[][] depths = [.. harmonics.Select(h => Depth(h, away, flank))];
        var falls = new double[harmonics.Length];
        for (int t = away; t < count - away; t++)
        {
            double sum = 0;
            for (int k = 0; k < depths.Length; k++)
            {
                falls[k] = depths[k][t];
                sum += weights[k] * Math.Clamp(falls[k], -4, 12);
            }

            double both = Math.Min(sum / total, levelDepth[t]);
            if (both > joint[t])
            {
                joint[t] = both;
                lesser[t] = Quantile(falls, 0.25);
            }
        }
    }

    /// <summary>How far a level lies below its means on both sides, whichever is lower.</summary>
    private static double[] Depth(double[] level, int away, int flank)
    {
        double[] sums = new double[level.Length + 1];
        for (int t = 0; t < level.Length; t++)
        {
            sums[t + 1] = sums[t] + level[t];
        }

        double Mean(int centre, int width)
        {
            int from = Math.Max(0, centre - (width / 2));
            int to = Math.Min(level.Length, from + width);
            return (sums[to] - sums[from]) / Math.Max(1, to - from);
        }

        var depth = new double[level.Length];
        for (int t = away; t < level.Length - away; t++)
        {
            depth[t] = Math.Min(Mean(t - away, flank), Mean(t + away, flank)) - Mean(t, 3);
        }

        return depth;
    }

    private static double Quantile(double[] values, double share)
    {
        double[] sorted = [.. values.Order()];
        double at = share * (sorted.Length - 1);
        int whole = (int)at;
        return whole + 1 < sorted.Length ? sorted[whole] + ((at - whole) * (sorted[whole + 1] - sorted[whole])) : sorted[whole];
    }
}
