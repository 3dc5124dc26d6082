using System.Numerics;
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

    private HarmonicTracks(Complex[][] amplitudes, double[] weights, double[] level, double[] pitch, double windowSeconds)
    {
        Amplitudes = amplitudes;
        Weights = weights;
        LevelPower = level;
        PitchCents = pitch;
        WindowSeconds = windowSeconds;
    }

    /// <summary>Amplitude of each harmonic that is heard, at each step.</summary>
    public Complex[][] Amplitudes { get; }

    /// <summary>How much each harmonic counts, by its level; together 1.</summary>
    public double[] Weights { get; }

    /// <summary>Power of the whole sound at each step.</summary>
    public double[] LevelPower { get; }

    /// <summary>How far the pitch lies above the note's at each step, smoothed.</summary>
    public double[] PitchCents { get; }

    /// <summary>From the centre of the window that they are measured with to its ends.</summary>
    public double WindowSeconds { get; }

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
        Complex[][] amplitudes = [.. Enumerable.Range(0, kinds).Select(_ => new Complex[count])];
        for (int k = 0; k < kinds; k++)
        {
            double cyclesPerSample = (k + 1) * hz / rate;
            var probe = new HarmonicProbe(window, cyclesPerSample);
            for (int t = 0; t < count; t++)
            {
                int at = (int)(t * step);
                amplitudes[k][t] = probe.AmplitudeOf(samples.AsSpan(at, width)) * Turn(-2 * Math.PI * cyclesPerSample * at);
            }
        }

        for (int t = 0; t < count; t++)
        {
            level[t] = SampleProduct.Of(energies.AsSpan((int)(t * step), width), weights);
        }

        double[] turns = Follow(amplitudes, step / rate);
        return Heard(amplitudes, level, [.. turns.Select(turn => 1200 * Math.Log2(Math.Max(0.5, 1 + (turn / (2 * Math.PI * hz)))))], half / rate);
    }

    /// <summary>Power of a harmonic at a step.</summary>
    public double PowerAt(int harmonic, int step) => HarmonicProbe.PowerOf(Amplitudes[harmonic][step]);

    private static Complex Turn(double angle)
    {
        (double sine, double cosine) = Math.SinCos(angle);
        return new Complex(cosine, sine);
    }

    /// <summary>Turns all harmonics back by the deviation of the pitch, which they share.</summary>
    /// <returns>The deviation at each step, in radians a second.</returns>
    private static double[] Follow(Complex[][] amplitudes, double stepSeconds)
    {
        int count = amplitudes[0].Length;
        int lag = Math.Max(1, (int)Math.Round(TurnSeconds / stepSeconds));
        if (count <= lag)
        {
            return new double[count];
        }

        var turn = new double[count - lag];
        for (int t = 0; t < turn.Length; t++)
        {
            // How far each harmonic has turned, the higher ones unwrapped by what the lower ones say: least squares by their strength.
            double sum = 0, weights = 0;
            for (int k = 0; k < amplitudes.Length; k++)
            {
                Complex turned = amplitudes[k][t + lag] * Complex.Conjugate(amplitudes[k][t]);
                double foreseen = (k + 1) * turn[t];
                double angle = foreseen + Math.IEEERemainder(turned.Phase - foreseen, 2 * Math.PI);
                double strength = Math.Sqrt(HarmonicProbe.PowerOf(turned));
                sum += strength * (k + 1) * angle;
                weights += strength * (k + 1) * (k + 1);
                turn[t] = sum / (weights + double.Epsilon);
            }
        }

        double[] smooth = Mean(Median(turn, (int)(MedianSeconds / stepSeconds)), (int)(MeanSeconds / stepSeconds));
        var speed = new double[count];
        double phase = 0;
        for (int t = 0; t < count; t++)
        {
            double step = smooth[Math.Clamp(t - (lag / 2), 0, smooth.Length - 1)] / lag;
            speed[t] = step / stepSeconds;
            phase += step;
            for (int k = 0; k < amplitudes.Length; k++)
            {
                amplitudes[k][t] *= Turn(-(k + 1) * phase);
            }
        }

        return speed;
    }

    private static HarmonicTracks Heard(Complex[][] amplitudes, double[] level, double[] pitch, double windowSeconds)
    {
        var usual = new double[amplitudes.Length];
        for (int k = 0; k < amplitudes.Length; k++)
        {
            double[] powers = [.. amplitudes[k].Select(HarmonicProbe.PowerOf).Order()];
            usual[k] = 10 * Math.Log10(powers[powers.Length / 2] + 1e-18);
        }

        double top = usual.Max();
        int[] heard = [.. Enumerable.Range(0, amplitudes.Length).Where(k => usual[k] > top - QuietDb)];
        double[] weights = [.. heard.Select(k => Math.Clamp((usual[k] - top + QuietDb) / QuietDb, LeastWeight, 1))];
        double total = weights.Sum();
        return new HarmonicTracks([.. heard.Select(k => amplitudes[k])], [.. weights.Select(w => w / total)], level, pitch, windowSeconds);
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
            result[t] = values[Math.Max(0, t - (width / 2))..Math.Min(values.Length, t + (width / 2) + 1)].Average();
        }

        return result;
    }
}
