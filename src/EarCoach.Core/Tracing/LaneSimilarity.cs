using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace EarCoach.Core.Tracing;

/// <summary>How well several windows of sound match themselves when shifted: one lane of a vector register a window.</summary>
/// <remarks>
/// The normalised autocorrelation of Boersma (1993), "Accurate short-term analysis of the fundamental frequency and the harmonics-to-noise
/// ratio of a sampled sound", Proceedings of the Institute of Phonetic Sciences 17, 97-110: that of the window's samples under Hann's weights,
/// over that of the weights. It is given at every half sample of shift (the spectrum is continued by zeros), so that high pitches keep their
/// peaks. Allocates nothing after construction.
/// </remarks>
internal sealed class LaneSimilarity
{
    private readonly LaneFourier _forward;
    private readonly LaneFourier _backward;
    private readonly float[] _weights;
    private readonly float[] _cosines; // of pi k / size
    private readonly float[] _sines;
    private readonly float[] _overWindow;
    private readonly Vector<float>[] _power;
    private readonly Vector<float>[] _values;
    private readonly int _lowestBin;

    /// <param name="sampleRateHz">Samples a second.</param>
    /// <param name="windowSamples">Samples in a window.</param>
    /// <param name="longestLag">Longest shift that is asked for, in samples; at most two thirds of the window.</param>
    /// <param name="lowestHz">What lies lower in the spectrum counts as rumble.</param>
    public LaneSimilarity(double sampleRateHz, int windowSamples, int longestLag, double lowestHz)
    {
        WindowSamples = windowSamples;
        HalfLags = (2 * longestLag) + 2;
        Size = 8;
        while (Size < windowSamples + longestLag - (windowSamples / 7))
        {
            Size *= 2; // A shorter transform lets only the ends of the window meet, where Hann's weights multiply to nearly nothing.
        }

        _forward = new LaneFourier(Size / 2);
        _backward = new LaneFourier(Size);
        _power = new Vector<float>[(Size / 2) + 1];
        _values = new Vector<float>[HalfLags];
        _weights = new float[windowSamples];
        for (int i = 0; i < windowSamples; i++)
        {
            _weights[i] = (float)(0.5 - (0.5 * Math.Cos(2 * Math.PI * (i + 0.5) / windowSamples)));
        }

        _cosines = new float[(Size / 2) + 1];
        _sines = new float[(Size / 2) + 1];
        for (int k = 0; k <= Size / 2; k++)
        {
            (double sine, double cosine) = Math.SinCos(Math.PI * k / Size);
            _cosines[k] = (float)cosine;
            _sines[k] = (float)sine;
        }

        _overWindow = new float[HalfLags];
        for (int h = 0; h < HalfLags; h++)
        {
            double share = h / 2.0 / windowSamples;
            double turn = 2 * Math.PI * share; // equation 8 of the source
            _overWindow[h] = (float)(1 / (((1 - share) * ((2 / 3.0) + (Math.Cos(turn) / 3))) + (Math.Sin(turn) / (2 * Math.PI))));
        }

        _lowestBin = Math.Max(1, (int)Math.Ceiling(lowestHz * Size / sampleRateHz));
    }

    /// <summary>Windows that are looked at together.</summary>
    public static int Lanes => Vector<float>.Count;

    /// <summary>Samples in a window.</summary>
    public int WindowSamples { get; }

    /// <summary>How many shifts there are: 0, 1/2, 1, ... samples.</summary>
    public int HalfLags { get; }

    /// <summary>Points of the spectrum from 0 to the sample rate.</summary>
    public int Size { get; }

    /// <summary>Power of one window: value k * <see cref="Lanes"/> is that at k / <see cref="Size"/> of the sample rate, for k up to half the size.</summary>
    public ReadOnlySpan<float> PowerFrom(int lane) => MemoryMarshal.Cast<Vector<float>, float>(_power)[lane..];

    /// <summary>Likeness of one window: value h * <see cref="Lanes"/> is that at a shift of h / 2 samples; 1 where h is 0, all 0 in digital silence.</summary>
    public ReadOnlySpan<float> ValuesFrom(int lane) => MemoryMarshal.Cast<Vector<float>, float>(_values)[lane..];

    /// <summary>Looks at as many windows as there are lanes.</summary>
    /// <param name="samples">At least (lanes - 1) * hop + window samples.</param>
    /// <param name="hop">Samples from the start of one window to that of the next.</param>
    public void Analyze(ReadOnlySpan<float> samples, int hop)
    {
        Load(samples, hop);
        _forward.Forward();
        TakePower();
        _backward.Forward();
        Normalise();
    }

    // Even samples as real parts, odd ones as imaginary: a real transform at half its size.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Load(ReadOnlySpan<float> samples, int hop)
    {
        Span<float> lane = stackalloc float[Vector<float>.Count];
        Vector<float>[] real = _forward.Real;
        Vector<float>[] imaginary = _forward.Imaginary;
        float[] weights = _weights;
        for (int i = 0; i < weights.Length; i++)
        {
            for (int l = 0; l < lane.Length; l++)
            {
                lane[l] = samples[i + (l * hop)];
            }

            Vector<float> weighted = new Vector<float>(lane) * weights[i];
            if ((i & 1) == 0)
            {
                real[i >> 1] = weighted;
            }
            else
            {
                imaginary[i >> 1] = weighted;
            }
        }

        real.AsSpan((weights.Length + 1) / 2).Clear();
        imaginary.AsSpan(weights.Length / 2).Clear();
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void TakePower()
    {
        int half = Size / 2;
        Vector<float>[] intoReal = _backward.Real;
        Vector<float>[] intoImaginary = _backward.Imaginary;
        for (int k = 0; k <= half; k++)
        {
            Vector<float> power = _forward.PowerOfReal(k);
            _power[k] = power;
            if (k < _lowestBin || k == half)
            {
                power = Vector<float>.Zero;
            }

            // P(k) (1 + i exp(-i pi k / size)): the real part of its transform is the likeness at whole shifts, the imaginary at half ones.
            Vector<float> tilt = power * _sines[k];
            Vector<float> imaginary = power * _cosines[k];
            intoReal[k] = power + tilt;
            intoImaginary[k] = imaginary;
            if (k > 0 && k < half)
            {
                intoReal[Size - k] = power - tilt;
                intoImaginary[Size - k] = imaginary;
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Normalise()
    {
        Vector<float>[] whole = _backward.Real;
        Vector<float>[] half = _backward.Imaginary;
        Vector<float> energy = whole[0];
        Vector<float> loud = Vector.GreaterThan(energy, new Vector<float>(1e-9f)).As<int, float>();
        Vector<float> over = Vector.BitwiseAnd(Vector<float>.One / Vector.Max(energy, new Vector<float>(1e-9f)), loud);
        for (int h = 0; h < _values.Length; h++)
        {
            _values[h] = ((h & 1) == 0 ? whole[h >> 1] : half[h >> 1]) * over * _overWindow[h];
        }
    }
}
