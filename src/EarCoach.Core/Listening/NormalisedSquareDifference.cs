namespace EarCoach.Core.Listening;

/// <summary>How well a window of sound matches itself when shifted, by Fourier transforms.</summary>
/// <remarks>
/// The normalised square difference function of McLeod and Wyvill (2005), "A smarter way to find pitch", which is 1 minus YIN's difference
/// function (de Cheveigne and Kawahara 2002, J. Acoust. Soc. Am. 111, 1917-1930) over the energy of the two parts compared. Allocates nothing
/// after construction.
/// </remarks>
internal sealed class NormalisedSquareDifference
{
    private readonly FourierTransform _fft;
    private readonly float[] _padded;
    private readonly float[] _real;
    private readonly float[] _imaginary;
    private readonly int _longestLag;

    /// <param name="windowSamples">Samples in a window.</param>
    /// <param name="longestLag">Longest shift, in samples; less than the window.</param>
    public NormalisedSquareDifference(int windowSamples, int longestLag)
    {
        _longestLag = longestLag;
        int size = 1;
        while (size < windowSamples + longestLag)
        {
            size *= 2;
        }

        _fft = new FourierTransform(size);
        _padded = new float[size];
        _real = new float[(size / 2) + 1];
        _imaginary = new float[(size / 2) + 1];
        Values = new float[size];
    }

    /// <summary>Likeness at each shift from 0 to the longest: 1 where the shifted window equals itself, 0 where they have nothing in common.</summary>
    public float[] Values { get; }

    /// <summary>Compares a window with itself at every shift; false when it is silent.</summary>
    /// <param name="window">As many samples as were said.</param>
    public bool Compute(ReadOnlySpan<float> window)
    {
        window.CopyTo(_padded);
        Array.Clear(_padded, window.Length, _padded.Length - window.Length);
        double energy = 0;
        foreach (float x in window)
        {
            energy += x * x;
        }

        if (!(energy > 1e-12))
        {
            return false;
        }

        _fft.Forward(_padded, _real, _imaginary);
        for (int i = 0; i < _real.Length; i++)
        {
            _real[i] = (_real[i] * _real[i]) + (_imaginary[i] * _imaginary[i]);
        }

        Array.Clear(_imaginary);
        _fft.Backward(_real, _imaginary, Values);
        double scale = energy / Values[0];
        double both = 2 * energy;
        int last = window.Length - 1;
        Values[0] = 1;
        for (int lag = 1; lag <= _longestLag; lag++)
        {
            double head = window[lag - 1];
            double tail = window[last - lag + 1];
            both -= (head * head) + (tail * tail);
            Values[lag] = both > 1e-9 * energy ? (float)(2 * scale * Values[lag] / both) : 0f;
        }

        return true;
    }
}
