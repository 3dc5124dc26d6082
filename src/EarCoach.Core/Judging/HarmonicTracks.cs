using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>
/// The harmonics of a note, each as a complex amplitude that stands still while the tone does: turned back by the note's own pitch, which is
/// followed through vibrato and scoops.
/// </summary>
internal sealed class HarmonicTracks
{
    private const double HalfWindowSeconds = 0.007;
    private const double HighestHz = 6000;
    private const int MostHarmonics = 12;
    private const double QuietDb = 25;              // harmonics so far below the strongest say nothing
    private const double LeastWeight = 0.2;
    private const double TurnSeconds = 0.008;       // over which the pitch is measured
    private const double MedianSeconds = 0.05;      // the pitch of a tone does not jump: what is shorter is noise
    private const double MeanSeconds = 0.03;

    private HarmonicTracks(double[][] real, double[][] imaginary, double[] weights, double[] level)
    {
        Real = real;
        Imaginary = imaginary;
        Weights = weights;
        LevelPower = level;
    }

    /// <summary>Real part of each harmonic that is heard, at each step.</summary>
    public double[][] Real { get; }

    /// <summary>Imaginary part of each harmonic that is heard, at each step.</summary>
    public double[][] Imaginary { get; }

    /// <summary>How much each harmonic counts, by its level; together 1.</summary>
    public double[] Weights { get; }

    /// <summary>Power of the whole sound at each step.</summary>
    public double[] LevelPower { get; }

    /// <summary>Follows the harmonics of a note.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="from">Where to begin, on the clock of the analysed samples.</param>
    /// <param name="step">From one reading to the next, in samples.</param>
    /// <param name="count">How many readings.</param>
    /// <param name="midi">The note's pitch.</param>
    public static HarmonicTracks Of(RegionSound sound, double from, double step, int count, double midi)
    {
        double rate = sound.AnalysisRateHz;
        double hz = EqualTemperament.HzOf(midi);
        int half = (int)(rate * Math.Max(HalfWindowSeconds, 1 / hz));
        int width = (2 * half) + 1;
        int kinds = Math.Clamp((int)(Math.Min(HighestHz, 0.45 * rate) / hz), 1, MostHarmonics);
        float[] samples = new float[(int)((count - 1) * step) + width + 1];
        sound.Samples.CopyTo((long)from - half, samples);

        double[] window = HannWindow.Around(half);
        float[] weights = [.. window.Select(w => (float)w)];
        float[] energies = [.. samples.Select(x => x * x)];
        var level = new double[count];
        double[][] real = [.. Enumerable.Range(0, kinds).Select(_ => new double[count])];
        double[][] imaginary = [.. Enumerable.Range(0, kinds).Select(_ => new double[count])];
        for (int k = 0; k < kinds; k++)
        {
            double cyclesPerSample = (k + 1) * hz / rate;
            var probe = new HarmonicProbe(window, cyclesPerSample);
            for (int t = 0; t < count; t++)
            {
                int at = (int)(t * step);
                (double re, double im) = probe.AmplitudeOf(samples.AsSpan(at, width));
                (double sine, double cosine) = Math.SinCos(-2 * Math.PI * cyclesPerSample * at);
                real[k][t] = (re * cosine) - (im * sine);
                imaginary[k][t] = (re * sine) + (im * cosine);
            }
        }

        for (int t = 0; t < count; t++)
        {
            level[t] = SampleProduct.Of(energies.AsSpan((int)(t * step), width), weights);
        }

        Follow(real, imaginary, step / rate);
        return Heard(real, imaginary, level);
    }

    /// <summary>Turns all harmonics back by the deviation of the pitch, which they share.</summary>
    private static void Follow(double[][] real, double[][] imaginary, double stepSeconds)
    {
        int count = real[0].Length;
        int lag = Math.Max(1, (int)Math.Round(TurnSeconds / stepSeconds));
        if (count <= lag)
        {
            return;
        }

        var turn = new double[count - lag];
        for (int t = 0; t < turn.Length; t++)
        {
            // How far each harmonic has turned, the higher ones unwrapped by what the lower ones say: least squares by their strength.
            double sum = 0, weights = 0;
            for (int k = 0; k < real.Length; k++)
            {
                double re = (real[k][t + lag] * real[k][t]) + (imaginary[k][t + lag] * imaginary[k][t]);
                double im = (imaginary[k][t + lag] * real[k][t]) - (real[k][t + lag] * imaginary[k][t]);
                double foreseen = (k + 1) * turn[t];
                double angle = foreseen + Math.IEEERemainder(Math.Atan2(im, re) - foreseen, 2 * Math.PI);
                double strength = Math.Sqrt((re * re) + (im * im));
                sum += strength * (k + 1) * angle;
                weights += strength * (k + 1) * (k + 1);
                turn[t] = sum / (weights + double.Epsilon);
            }
        }

        double[] smooth = Mean(Median(turn, (int)(MedianSeconds / stepSeconds)), (int)(MeanSeconds / stepSeconds));
        double phase = 0;
        for (int t = 0; t < count; t++)
        {
            phase += smooth[Math.Clamp(t - (lag / 2), 0, smooth.Length - 1)] / lag;
            for (int k = 0; k < real.Length; k++)
            {
                (double sine, double cosine) = Math.SinCos(-(k + 1) * phase);
                (real[k][t], imaginary[k][t]) = ((real[k][t] * cosine) - (imaginary[k][t] * sine), (real[k][t] * sine) + (imaginary[k][t] * cosine));
            }
        }
    }

    private static HarmonicTracks Heard(double[][] real, double[][] imaginary, double[] level)
    {
        var usual = new double[real.Length];
        for (int k = 0; k < real.Length; k++)
        {
            double[] powers = new double[level.Length];
            for (int t = 0; t < level.Length; t++)
            {
                powers[t] = (real[k][t] * real[k][t]) + (imaginary[k][t] * imaginary[k][t]);
            }

            Array.Sort(powers);
            usual[k] = 10 * Math.Log10(powers[powers.Length / 2] + 1e-18);
        }

        double top = usual.Max();
        int[] heard = [.. Enumerable.Range(0, real.Length).Where(k => usual[k] > top - QuietDb)];
        double[] weights = [.. heard.Select(k => Math.Clamp((usual[k] - top + QuietDb) / QuietDb, LeastWeight, 1))];
        double total = weights.Sum();
        return new HarmonicTracks([.. heard.Select(k => real[k])], [.. heard.Select(k => imaginary[k])], [.. weights.Select(w => w / total)], level);
    }

    private static double[] Median(double[] values, int width)
    {
        var result = new double[values.Length];
        for (int t = 0; t < values.Length; t++)
        {
            double[] part = [.. values[Math.Max(0, t - (width / 2))..Math.Min(values.Length, t + (width / 2) + 1)].Order()];
            result[t] = part[part.Length / 2];
        }

        return result;
    }

    private static double[] Mean(double[] values, int width)
    {
        var result = new double[values.Length];
        for (int t = 0; t < values.Length; t++)
        {
            result[t] = values.AsSpan(Math.Max(0, t - (width / 2))..Math.Min(values.Length, t + (width / 2) + 1)).ToArray().Average();
        }

        return result;
    }
}
