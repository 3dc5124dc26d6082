using System.Numerics;
using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>How well supposed periods predict a stretch of sound, block by block: by the period before or the one after, whichever is better.</summary>
internal sealed class PeriodFit
{
    private const double TellingSeconds = 0.004;
    private readonly float[] _samples; // from so many before the stretch as the longest shift, to so many after it
    private readonly int _margin;
    private readonly int _block;
    private readonly int _blocks;
    private readonly double _rate;

    private PeriodFit(float[] samples, int margin, int block, int blocks, double rate)
    {
        _samples = samples;
        _margin = margin;
        _block = block;
        _rate = rate;
        _blocks = blocks;
        Energy = Sums(samples, 0);
    }

    /// <summary>Energy of each block.</summary>
    public double[] Energy { get; }

    /// <summary>Cuts a stretch into blocks.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="from">Its beginning, on the clock of the analysed samples.</param>
    /// <param name="block">Length of a block, in samples.</param>
    /// <param name="blocks">How many.</param>
    /// <param name="lowestMidi">The lowest pitch that will be asked for.</param>
    public static PeriodFit Of(RegionSound sound, long from, int block, int blocks, double lowestMidi)
    {
        double rate = sound.AnalysisRateHz;
        int margin = (int)(2 * rate * Math.Max(TellingSeconds, 1 / EqualTemperament.HzOf(lowestMidi))) + 4;
        var raw = new float[(block * blocks) + (2 * margin) + 2];
        sound.Samples.CopyTo(from - margin - 1, raw);

        // Breath and bow noise lies high, where a period has little to say.
        var samples = new float[raw.Length - 2];
        for (int i = 0; i < samples.Length; i++)
        {
            samples[i] = (0.25f * (raw[i] + raw[i + 2])) + (0.5f * raw[i + 1]);
        }

        return new PeriodFit(samples, margin, block, blocks, rate);
    }

    /// <summary>The same stretch with a pitch taken out of it: what its period before does not predict.</summary>
    public PeriodFit Without(double midi)
    {
        double shift = _rate / EqualTemperament.HzOf(midi);
        var rest = new float[_samples.Length];
        float[] weights = Weights(-shift, out int whole);
        for (int i = Math.Max(0, 1 - whole); i < rest.Length - Math.Max(0, whole + 2); i++)
        {
            rest[i] = _samples[i] - Interpolated(i + whole, weights);
        }

        return new PeriodFit(rest, _margin, _block, _blocks, _rate);
    }

    /// <summary>What a pitch does not predict of each block, on the scale of the energy.</summary>
    /// <param name="midi">The pitch.</param>
    /// <param name="goesOn">Whether the sound must have had it before, as one that rings on; else it may begin here.</param>
    /// <remarks>One period tells high neighbours poorly apart, several alone would fit other pitches too: both must do.</remarks>
    public double[] Unexplained(double midi, bool goesOn = false)
    {
        double period = _rate / EqualTemperament.HzOf(midi);
        int periods = (int)Math.Round(TellingSeconds * _rate / period);
        double[] one = AtLag(period, goesOn);
        return periods < 2 ? one : [.. one.Zip(AtLag(periods * period, goesOn), (x, y) => 0.5 * (x + y))];
    }

    private double[] AtLag(double lag, bool goesOn)
    {
        float[] weights = Weights(lag, out int whole);
        var ahead = new float[_samples.Length];
        int count = ahead.Length - whole - 3;
        ReadOnlySpan<float> shifted = _samples.AsSpan(whole);
        int i = 1;
        for (; i <= count - Vector<float>.Count; i += Vector<float>.Count)
        {
            Vector<float> predicted = (weights[0] * new Vector<float>(shifted[(i - 1)..])) + (weights[1] * new Vector<float>(shifted[i..]))
                + (weights[2] * new Vector<float>(shifted[(i + 1)..])) + (weights[3] * new Vector<float>(shifted[(i + 2)..]));
            (new Vector<float>(_samples, i) - predicted).CopyTo(ahead, i);
        }

        for (; i < count; i++)
        {
            ahead[i] = _samples[i] - Interpolated(i + whole, weights);
        }

        double[] unexplained = Sums(ahead, -(int)Math.Round(lag));
        double[] forward = goesOn ? unexplained : Sums(ahead, 0);
        for (int k = 0; k < _blocks; k++)
        {
            unexplained[k] = 0.5 * Math.Min(forward[k], unexplained[k]); // the difference of two samples has twice the noise of one
        }

        return unexplained;
    }

    private float Interpolated(int at, float[] weights) =>
        (weights[0] * _samples[at - 1]) + (weights[1] * _samples[at]) + (weights[2] * _samples[at + 1]) + (weights[3] * _samples[at + 2]);

    private double[] Sums(float[] values, int shift)
    {
        var sums = new double[_blocks];
        for (int k = 0; k < _blocks; k++)
        {
            ReadOnlySpan<float> part = values.AsSpan(_margin + (k * _block) + shift, _block);
            sums[k] = SampleProduct.Of(part, part);
        }

        return sums;
    }

    /// <summary>Catmull-Rom weights for the sample a shift later: straight lines would lose the upper harmonics.</summary>
    private static float[] Weights(double shift, out int whole)
    {
        whole = (int)Math.Floor(shift);
        double f = shift - whole;
        return
        [
            (float)(0.5 * f * (-1 + (f * (2 - f)))),
            (float)(1 + (0.5 * f * f * (-5 + (3 * f)))),
            (float)(0.5 * f * (1 + (f * (4 - (3 * f))))),
            (float)(0.5 * f * f * (-1 + f)),
        ];
    }
}
