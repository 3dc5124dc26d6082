using System.Runtime.CompilerServices;

namespace EarCoach.Core.Listening;

/// <summary>Lowers the sample rate by a whole factor: a windowed-sinc low-pass and every n-th sample of it.</summary>
/// <remarks>After construction nothing is allocated. Output k is centred on input sample k * Factor.</remarks>
internal sealed class SampleReducer
{
    private readonly float[] _taps;
    private readonly float[] _history;
    private int _filled;
    private long _nextCentre;
    private long _received;

    public SampleReducer(int factor)
    {
        Factor = factor;
        Half = factor == 1 ? 0 : 12 * factor;
        _taps = new float[(2 * Half) + 1];
        double sum = 0;
        for (int i = -Half; i <= Half; i++)
        {
            double cutoff = 0.45 / factor; // cycles a sample
            double x = 2 * cutoff * i;
            double sinc = i == 0 ? 1 : Math.Sin(Math.PI * x) / (Math.PI * x);
            double window = Half == 0 ? 1 : 0.42 + (0.5 * Math.Cos(Math.PI * i / Half)) + (0.08 * Math.Cos(2 * Math.PI * i / Half)); // Blackman
            _taps[i + Half] = (float)(sinc * window);
            sum += sinc * window;
        }

        for (int i = 0; i < _taps.Length; i++)
        {
            _taps[i] = (float)(_taps[i] / sum);
        }

        _history = new float[(2 * _taps.Length) + 4096];
        Reset();
    }

    /// <summary>Input samples for each output sample.</summary>
    public int Factor { get; }

    /// <summary>Input samples needed after the centre of an output sample.</summary>
    public int Half { get; }

    public void Reset()
    {
        Array.Clear(_history);
        _filled = Half; // silence before the stream
        _nextCentre = 0;
        _received = 0;
    }

    /// <summary>Takes some input and writes what output it allows; call again with the rest while <paramref name="consumed"/> is less than the input.</summary>
    public int Process(ReadOnlySpan<float> input, Span<float> output, out int consumed)
    {
        if (Factor == 1)
        {
            consumed = Math.Min(input.Length, output.Length);
            input[..consumed].CopyTo(output);
            return consumed;
        }

        consumed = Math.Min(input.Length, Math.Min(_history.Length - _filled, output.Length * Factor));
        input[..consumed].CopyTo(_history.AsSpan(_filled));
        _filled += consumed;
        _received += consumed;
        int written = 0;
        long firstInHistory = _received - _filled; // clock of _history[0]; may be negative: the silence before the stream
        while (_nextCentre + Half < _received && written < output.Length)
        {
            int at = (int)(_nextCentre - Half - firstInHistory);
            output[written++] = Dot(_history.AsSpan(at, _taps.Length), _taps);
            _nextCentre += Factor;
        }

        int keepFrom = (int)Math.Max(0, _nextCentre - Half - firstInHistory);
        _history.AsSpan(keepFrom, _filled - keepFrom).CopyTo(_history);
        _filled -= keepFrom;
        return written;
    }

    // Compiled at once with all optimisations: code that names vectors is not compiled ahead of time.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static float Dot(ReadOnlySpan<float> a, ReadOnlySpan<float> b)
    {
        System.Numerics.Vector<float> sum = default;
        int width = System.Numerics.Vector<float>.Count;
        int i = 0;
        for (; i <= a.Length - width; i += width)
        {
            sum += new System.Numerics.Vector<float>(a[i..]) * new System.Numerics.Vector<float>(b[i..]);
        }

        float total = System.Numerics.Vector.Sum(sum);
        for (; i < a.Length; i++)
        {
            total += a[i] * b[i];
        }

        return total;
    }
}
