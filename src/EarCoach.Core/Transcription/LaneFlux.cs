using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using EarCoach.Core.Tracing;

namespace EarCoach.Core.Transcription;

/// <summary>How much sound is new in each window: spectral flux in bands of a quarter tone, with maximum filtering.</summary>
/// <remarks>
/// Each band is compared with the strongest of itself and its neighbours a few windows earlier, so that vibrato, which moves a partial to the
/// next band, is nothing new. Source: Boeck and Widmer (2013), "Maximum filter vibrato suppression for onset detection", Proc. DAFx-13.
/// Magnitudes are compressed against the loudest band of late, so that gain changes nothing. Allocates nothing after construction.
/// </remarks>
internal sealed class LaneFlux
{
    private const double LowestHz = 60;
    private const double HighestHz = 12_000;
    private const int BandsInOctave = 24;
    private const float Knee = 0.01f;          // of the loudest band: 40 dB below it hardly counts
    private const double ForgetSeconds = 8;    // in which the loudest band of late is forgotten to 1/e
    private readonly LaneFourier _fourier;
    private readonly float[] _weights;
    private readonly int[] _edges;
    private readonly Vector<float>[] _bands;
    private readonly float[] _past;            // compressed bands of the last windows, one after the other
    private readonly float[] _magnitudes;
    private readonly float _forget;
    private readonly int _back;
    private readonly int _lanes = Vector<float>.Count;
    private float _loudest;
    private long _windows;

    /// <param name="sampleRateHz">Samples a second.</param>
    /// <param name="windowSamples">Samples in a window.</param>
    /// <param name="hop">Samples from window to window.</param>
    public LaneFlux(double sampleRateHz, int windowSamples, int hop)
    {
        WindowSamples = windowSamples;
        int size = (int)BitOperations.RoundUpToPowerOf2((uint)Math.Max(8, windowSamples));
        _fourier = new LaneFourier(size / 2);
        _weights = new float[windowSamples];
        for (int i = 0; i < windowSamples; i++)
        {
            _weights[i] = (float)((0.5 - (0.5 * Math.Cos(2 * Math.PI * (i + 0.5) / windowSamples))) * 4 / windowSamples);
        }

        var edges = new List<int>();
        for (double hz = LowestHz; hz < Math.Min(HighestHz, 0.47 * sampleRateHz); hz *= Math.Pow(2, 1.0 / BandsInOctave))
        {
            int bin = (int)Math.Round(hz * size / sampleRateHz);
            if (edges.Count == 0 || bin > edges[^1])
            {
                edges.Add(bin);
            }
        }

        _edges = [.. edges];
        Size = size;
        _bands = new Vector<float>[_edges.Length - 1];
        _magnitudes = new float[_bands.Length];
        _back = Math.Max(1, (int)Math.Round(0.25 * windowSamples / hop)); // a quarter of a window: the weights' own width
        _past = new float[(_back + 1) * _bands.Length];
        _forget = (float)Math.Exp(-hop / sampleRateHz / ForgetSeconds);
    }

    /// <summary>Samples in a window.</summary>
    public int WindowSamples { get; }

    private int Size { get; }

    /// <summary>Looks at as many windows as a vector register has lanes.</summary>
    /// <param name="samples">At least (lanes - 1) * hop + window samples.</param>
    /// <param name="hop">Samples from window to window.</param>
    /// <param name="flux">Receives what is new in each: the mean rise of a band, in nepers of the compressed magnitude.</param>
    public void Analyze(ReadOnlySpan<float> samples, int hop, Span<float> flux)
    {
        Load(samples, hop);
        _fourier.Forward();
        TakeBands();
        ReadOnlySpan<float> bands = MemoryMarshal.Cast<Vector<float>, float>(_bands);
        for (int lane = 0; lane < flux.Length; lane++)
        {
            flux[lane] = Next(bands[lane..]);
        }
    }

    /// <summary>Afterwards it behaves as new.</summary>
    public void Reset()
    {
        _windows = 0;
        _loudest = 0;
        Array.Clear(_past);
    }

    private float Next(ReadOnlySpan<float> bands)
    {
        int count = _magnitudes.Length;
        float loudest = 1e-6f;
        for (int b = 0; b < count; b++)
        {
            _magnitudes[b] = MathF.Sqrt(bands[b * _lanes]);
            loudest = Math.Max(loudest, _magnitudes[b]);
        }

        _loudest = Math.Max(loudest, _loudest * _forget);
        int slot = (int)(_windows % (_back + 1));
        int before = (int)((_windows + 1) % (_back + 1)); // the oldest that is kept: so many windows earlier
        Span<float> now = _past.AsSpan(slot * count, count);
        ReadOnlySpan<float> then = _past.AsSpan(before * count, count);
        float over = 1 / (Knee * _loudest);
        float sum = 0;
        for (int b = 0; b < count; b++)
        {
            now[b] = MathF.Log(1 + (_magnitudes[b] * over));
            float strongest = then[b];
            strongest = b > 0 ? Math.Max(strongest, then[b - 1]) : strongest;
            strongest = b + 1 < count ? Math.Max(strongest, then[b + 1]) : strongest;
            sum += Math.Max(0, now[b] - strongest);
        }

        _windows++;
        return sum / count;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Load(ReadOnlySpan<float> samples, int hop)
    {
        Span<float> lane = stackalloc float[Vector<float>.Count];
        Vector<float>[] real = _fourier.Real;
        Vector<float>[] imaginary = _fourier.Imaginary;
        for (int i = 0; i < _weights.Length; i++)
        {
            for (int l = 0; l < lane.Length; l++)
            {
                lane[l] = samples[i + (l * hop)];
            }

            Vector<float> weighted = new Vector<float>(lane) * _weights[i];
            if ((i & 1) == 0)
            {
                real[i >> 1] = weighted;
            }
            else
            {
                imaginary[i >> 1] = weighted;
            }
        }

        real.AsSpan((_weights.Length + 1) / 2).Clear();
        imaginary.AsSpan(_weights.Length / 2).Clear();
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void TakeBands()
    {
        for (int b = 0; b < _bands.Length; b++)
        {
            Vector<float> sum = Vector<float>.Zero;
            for (int k = _edges[b]; k < _edges[b + 1]; k++)
            {
                sum += _fourier.PowerOfReal(k);
            }

            _bands[b] = sum;
        }
    }
}
