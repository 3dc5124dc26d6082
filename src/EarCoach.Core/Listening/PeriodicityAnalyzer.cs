namespace EarCoach.Core.Listening;

/// <summary>Finds the pitches that a window of sound may have, from how well it matches itself when shifted.</summary>
/// <remarks>
/// Several peaks are kept with weights (<see cref="PeakList"/>). Allocates nothing after construction.
/// </remarks>
internal sealed class PeriodicityAnalyzer
{
    private const int MostPeaks = 96;
    private const float HardlyMore = 0.7f;     // log of what a longer period may save and still be held for a multiple
    private const double OwnAbsentDb = 28;     // harmonics of its own weaker than this: none, only noise and side lobes
    private const double OwnPresentDb = 20;    // stronger than this: the longer period is real
    private const int MostTimes = 4;
    private const int CoarseLag = 40;
    private readonly NormalisedSquareDifference _likeness;
    private readonly float[] _nsdf;
    private readonly double _sampleRateHz;
    private readonly int _shortestLag;
    private readonly int _longestLag;
    private readonly int _knownLag; // beyond the longest period that is looked for: what a short one is measured by
    private readonly float[] _hann;
    private readonly PeakList _peaks = new(MostPeaks);

    public PeriodicityAnalyzer(double sampleRateHz, int windowSamples, double lowestHz, double highestHz)
    {
        _sampleRateHz = sampleRateHz;
        WindowSamples = windowSamples;
        _shortestLag = Math.Max(2, (int)Math.Floor(sampleRateHz / highestHz) - 1);
        _longestLag = Math.Min((int)(windowSamples * 0.66), (int)Math.Ceiling(sampleRateHz / lowestHz) + 2);
        _hann = new float[windowSamples];
        for (int i = 0; i < windowSamples; i++)
        {
            _hann[i] = (float)(0.5 - (0.5 * Math.Cos(2 * Math.PI * (i + 0.5) / windowSamples)));
        }

        _knownLag = Math.Max(_longestLag, Math.Min(windowSamples / 2, 8 * CoarseLag));
        _likeness = new NormalisedSquareDifference(windowSamples, _knownLag + 1);
        _nsdf = _likeness.Values;
    }

    /// <summary>Samples in a window.</summary>
    public int WindowSamples { get; }

    /// <summary>Writes the candidates of one window, likeliest first, and returns how many there are.</summary>
    public int Analyze(ReadOnlySpan<float> window, ref CandidateSet candidates)
    {
        if (!_likeness.Compute(window))
        {
            return 0;
        }

        FindPeaks();
        _peaks.Weigh(new WindowHarmonics(this, window), HardlyMore);
        return KeepBest(ref candidates);
    }

    private void FindPeaks()
    {
        _peaks.Clear();
        int lag = 1;
        while (lag < _longestLag && _nsdf[lag] > 0.5f * (1 + PeakList.LeastClarity) && _nsdf[lag + 1] <= _nsdf[lag])
        {
            lag++; // down the slope of the peak at lag 0
        }

        lag = Math.Max(lag, _shortestLag);
        for (; lag <= _longestLag && !_peaks.IsFull; lag++)
        {
            float b = _nsdf[lag];
            if (b > PeakList.LeastClarity && b > _nsdf[lag - 1] && b >= _nsdf[lag + 1])
            {
                _peaks.Add(lag, _nsdf[lag - 1], b, _nsdf[lag + 1]);
            }
        }
    }

    /// <summary>
    /// Whether a sound has harmonics that a period <paramref name="times"/> times shorter would lack: 0 no, 1 yes. Compares each such
    /// harmonic with the stronger of its neighbours that both periods share.
    /// </summary>
    private float OwnHarmonics(float lag, int times, ReadOnlySpan<float> window)
    {
        double fundamental = 1 / lag; // cycles a sample
        if (fundamental * window.Length < 2.3)
        {
            return 0f; // too few periods to tell neighbouring harmonics apart: the shorter period stands
        }

        int highest = Math.Min(4 * times, (int)(0.45 / fundamental));
        Span<float> power = stackalloc float[4 * MostTimes + 1];
        if (times > MostTimes)
        {
            return 0f;
        }

        float strongest = 0;
        for (int k = 1; k <= highest; k++)
        {
            power[k] = PowerAt(k * fundamental, window);
            strongest = Math.Max(strongest, power[k]);
        }

        double sum = 0;
        int count = 0;
        for (int k = 1; k <= highest; k++)
        {
            if (k % times == 0)
            {
                continue;
            }

            int below = k - (k % times);
            int above = below + times;
            float shared = Math.Max(below >= 1 ? power[below] : 0, above <= highest ? power[above] : 0);
            if (shared > 0.001f * strongest) // weaker neighbours are themselves only noise
            {
                sum += Math.Clamp(10 * Math.Log10((power[k] + 1e-20) / (shared + 1e-20)), -40, 0);
                count++;
            }
        }

        return count == 0 ? 0f : (float)Math.Clamp(((sum / count) + OwnAbsentDb) / (OwnAbsentDb - OwnPresentDb), 0, 1);
    }

    /// <summary>Power of the window (with Hann's weights) at one frequency, by the recurrence of Goertzel (1958).</summary>
    private float PowerAt(double cyclesPerSample, ReadOnlySpan<float> window)
    {
        float coefficient = (float)(2 * Math.Cos(2 * Math.PI * cyclesPerSample));
        float s1 = 0;
        float s2 = 0;
        for (int i = 0; i < window.Length; i++)
        {
            float s0 = (window[i] * _hann[i]) + (coefficient * s1) - s2;
            s2 = s1;
            s1 = s0;
        }

        return (s1 * s1) + (s2 * s2) - (coefficient * s1 * s2);
    }

    private int KeepBest(ref CandidateSet candidates)
    {
        int kept = Math.Min(_peaks.Count, CandidateSet.Capacity);
        float best = 0;
        for (int k = 0; k < kept; k++)
        {
            int at = _peaks.TakeBest(out float weight);
            best = k == 0 ? weight : best;
            double lag = k < 2 ? RefineByMultiples(_peaks.ShiftOf(at)) : _peaks.ShiftOf(at);
            double midi = 69 + (12 * Math.Log2(_sampleRateHz / (lag * 440.0)));
            candidates[k] = new PitchCandidate((float)midi, _peaks.ClarityOf(at), weight - best);
        }

        return kept;
    }

    /// <summary>A period is known k times better from the peak at k periods, as long as the sound holds its pitch that long.</summary>
    private double RefineByMultiples(double lag)
    {
        double period = lag;
        int longest = lag < CoarseLag ? _knownLag : _longestLag; // few samples in a period: the parabola alone strays by many cents
        int first = (int)Math.Round(lag);
        float height = lag < CoarseLag ? PeakList.Parabola(_nsdf[first - 1], _nsdf[first], _nsdf[first + 1]).Height : _nsdf[first];
        for (int k = 2; k * period < longest - 2; k *= 2)
        {
            int centre = (int)Math.Round(k * period);
            int reach = Math.Max(1, (int)(0.1 * period));
            int at = centre;
            for (int i = Math.Max(2, centre - reach); i <= Math.Min(longest, centre + reach); i++)
            {
                if (_nsdf[i] > _nsdf[at])
                {
                    at = i;
                }
            }

            (float offset, float top) = PeakList.Parabola(_nsdf[at - 1], _nsdf[at], _nsdf[at + 1]);
            if ((lag < CoarseLag ? top : _nsdf[at]) < 0.9f * height || _nsdf[at] < _nsdf[at - 1] || _nsdf[at] < _nsdf[at + 1])
            {
                break;
            }

            period = (at + offset) / k;
        }

        return period;
    }

    private readonly ref struct WindowHarmonics(PeriodicityAnalyzer analyzer, ReadOnlySpan<float> window) : PeakList.IOwnHarmonics
    {
        private readonly ReadOnlySpan<float> _window = window;

        public float Of(float shift, int times) => analyzer.OwnHarmonics(shift, times, _window);
    }
}
