using EarCoach.Core.Listening;

namespace EarCoach.Core.Tracing;

/// <summary>Picks the pitches that a window may have from its peaks of likeness, and weighs them against each other.</summary>
/// <remarks>Weights as in the listener's analysis (<see cref="PeakList"/>). Allocates nothing after construction.</remarks>
internal sealed class PeakPicker
{
    private const int MostPeaks = 64;
    private const int MostTimes = 4;
    private const float HardlyMore = 1.6f;     // log of what a longer period may save and still be held for a multiple
    private const float OwnAbsentDb = 28;      // harmonics of its own weaker than this: none, only noise and side lobes
    private const float OwnPresentDb = 20;     // stronger than this: the longer period is real
    private const float ResolvedPeriods = 3.2f; // in the window: from here on the spectrum falls between neighbouring harmonics
    private const float WidePeriods = 6;
    private const float WideDb = 4;
    private const float NarrowDb = 8;
    private const float FlatDb = 2;            // harmonics of its own that rise less above what lies between: noise
    private const float PeakedDb = 6;
    private const int HighestShared = 8;
    private readonly LaneSimilarity _similarity;
    private readonly int _lanes = LaneSimilarity.Lanes; // a field: methods that name vectors are not compiled ahead of time
    private readonly double _sampleRateHz;
    private readonly int _shortestHalfLag;
    private readonly PeakList _peaks = new(MostPeaks);

    public PeakPicker(LaneSimilarity similarity, double sampleRateHz, double highestHz)
    {
        _similarity = similarity;
        _sampleRateHz = sampleRateHz;
        _shortestHalfLag = Math.Max(2, (int)Math.Floor(2 * sampleRateHz / highestHz) - 1);
    }

    /// <summary>Writes the candidates of one lane, likeliest first, and returns how many there are.</summary>
    public int Pick(int lane, Span<PitchCandidate> candidates)
    {
        ReadOnlySpan<float> values = _similarity.ValuesFrom(lane);
        FindPeaks(values);
        _peaks.Weigh(new LaneHarmonics(this, _similarity.PowerFrom(lane)), HardlyMore);
        return KeepBest(values, candidates);
    }

    private void FindPeaks(ReadOnlySpan<float> values)
    {
        _peaks.Clear();
        int last = _similarity.HalfLags - 2;
        int h = 1;
        while (h < last && values[h * _lanes] > 0.5f * (1 + PeakList.LeastClarity) && values[(h + 1) * _lanes] <= values[h * _lanes])
        {
            h++; // down the slope of the peak at no shift
        }

        h = Math.Max(h, _shortestHalfLag);
        float before = values[(h - 1) * _lanes];
        float here = values[h * _lanes];
        for (; h <= last && !_peaks.IsFull; h++)
        {
            float after = values[(h + 1) * _lanes];
            if (here > PeakList.LeastClarity && here > before && here >= after)
            {
                _peaks.Add(h, before, here, after);
            }

            before = here;
            here = after;
        }
    }

    /// <summary>
    /// Whether a sound has harmonics that a period <paramref name="times"/> times shorter would lack: 0 no, 1 yes. Compares each such
    /// harmonic with the stronger of its neighbours that both periods share.
    /// </summary>
    private float OwnHarmonics(float halfLag, int times, ReadOnlySpan<float> power)
    {
        float fundamental = 2 / halfLag; // cycles a sample
        if (times > MostTimes || fundamental * _similarity.WindowSamples < 2.3f)
        {
            return 0f; // too few periods to tell neighbouring harmonics apart: the shorter period stands
        }

        bool resolved = fundamental * _similarity.WindowSamples > ResolvedPeriods;
        bool wide = fundamental * _similarity.WindowSamples > WidePeriods;
        int highest = Math.Min(HighestShared * times, (int)(0.45f / fundamental));
        Span<float> at = stackalloc float[(HighestShared * MostTimes) + 1];
        float strongest = 0;
        for (int k = 1; k <= highest; k++)
        {
            at[k] = PowerAt(k * fundamental, power);
            strongest = Math.Max(strongest, at[k]);
        }

        float sum = 0;
        float rise = 0;
        int count = 0;
        for (int k = 1; k <= highest; k++)
        {
            if (k % times == 0)
            {
                continue;
            }

            int below = k - (k % times);
            int above = below + times;
            float shared = Math.Max(below >= 1 ? at[below] : 0, above <= highest ? at[above] : 0);
            if (shared > 0.001f * strongest) // weaker neighbours are themselves only noise
            {
                sum += Math.Clamp(10 * MathF.Log10((at[k] + 1e-20f) / (shared + 1e-20f)), -40, 0);
                if (resolved)
                {
                    float between = 0.5f * (PowerAt((k - 0.5f) * fundamental, power) + PowerAt((k + 0.5f) * fundamental, power));
                    rise += Math.Clamp(10 * MathF.Log10((at[k] + 1e-20f) / (between + 1e-20f)), -10, 20);
                }

                count++;
            }
        }

        if (count == 0)
        {
            return 0f;
        }

        float lenience = wide ? WideDb : resolved ? 0 : -NarrowDb;
        float strong = Math.Clamp(((sum / count) + OwnAbsentDb + lenience) / (OwnAbsentDb - OwnPresentDb), 0, 1);
        float peaked = resolved ? Math.Clamp(((rise / count) - FlatDb) / (PeakedDb - FlatDb), 0, 1) : 1;
        return strong * peaked;
    }

    private float PowerAt(float cyclesPerSample, ReadOnlySpan<float> power)
    {
        float place = cyclesPerSample * _similarity.Size;
        int bin = Math.Min((int)(place + 0.5f), _similarity.Size / 2); // within half a point of the padded spectrum, less than half a point of the window's own
        return power[bin * _lanes];
    }

    private int KeepBest(ReadOnlySpan<float> values, Span<PitchCandidate> candidates)
    {
        int kept = Math.Min(_peaks.Count, candidates.Length);
        float best = 0;
        for (int k = 0; k < kept; k++)
        {
            int at = _peaks.TakeBest(out float weight);
            best = k == 0 ? weight : best;
            double halfLag = RefineByMultiples(_peaks.ShiftOf(at), values);
            double midi = 69 + (12 * Math.Log2(2 * _sampleRateHz / (halfLag * 440.0)));
            candidates[k] = new PitchCandidate((float)midi, _peaks.ClarityOf(at), weight - best);
        }

        return kept;
    }

    /// <summary>A period is known k times better from the peak at k periods, as long as the sound holds its pitch that long.</summary>
    private float RefineByMultiples(float halfLag, ReadOnlySpan<float> values)
    {
        int last = _similarity.HalfLags - 2;
        float period = halfLag;
        int first = (int)MathF.Round(halfLag);
        float height = PeakList.Parabola(values[(first - 1) * _lanes], values[first * _lanes], values[(first + 1) * _lanes]).Height;
        for (int k = 2; k * period < last - 2; k *= 2)
        {
            int centre = (int)MathF.Round(k * period);
            int reach = Math.Max(1, (int)(0.1f * period));
            int at = centre;
            for (int h = Math.Max(2, centre - reach); h <= Math.Min(last, centre + reach); h++)
            {
                if (values[h * _lanes] > values[at * _lanes])
                {
                    at = h;
                }
            }

            float before = values[(at - 1) * _lanes];
            float here = values[at * _lanes];
            float after = values[(at + 1) * _lanes];
            (float offset, float top) = PeakList.Parabola(before, here, after);
            if (top < 0.9f * height || here < before || here < after)
            {
                break;
            }

            period = (at + offset) / k;
        }

        return period;
    }

    private readonly ref struct LaneHarmonics(PeakPicker picker, ReadOnlySpan<float> power) : PeakList.IOwnHarmonics
    {
        private readonly ReadOnlySpan<float> _power = power;

        public float Of(float shift, int times) => picker.OwnHarmonics(shift, times, _power);
    }
}
