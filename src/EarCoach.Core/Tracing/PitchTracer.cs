using EarCoach.Core.Listening;

namespace EarCoach.Core.Tracing;

/// <summary>Turns a stream of samples into the pitch and level of unknown playing, a frame every few milliseconds.</summary>
/// <remarks>
/// [one thread] Several weighted candidates a frame, smoothed over time with a fixed lag. Frames are worked out as many at once as a vector
/// register has lanes. After construction: no allocation, no lock, no clock but the sample count. The frames do not depend on where the
/// stream is cut into blocks. Samples that are no numbers count as silence.
/// </remarks>
public sealed class PitchTracer
{
    private const double SmoothingSeconds = 0.15;
    private const double LevelHalfSeconds = 0.010;
    private const double LevelHalfPeriods = 0.5;
    private const double ShortestWindowSeconds = 0.040;
    private const double PeriodsInWindow = 2.6;
    private const double LeastRatePerHighest = 2.25;
    private const double LeastRateHz = 10_500;
    private const int LevelRing = 1024;
    private const float NearFloorDb = 3;
    private const float LossPerDb = 0.8f;
    private readonly SampleReducer _reducer;
    private readonly LaneSimilarity _similarity;
    private readonly PeakPicker _picker;
    private readonly PitchPath _path;
    private readonly NoiseFloor _floor;
    private readonly PitchCandidate[] _found = new PitchCandidate[PitchPath.Candidates];
    private readonly float[] _cleaned = new float[4096];
    private readonly float[] _reduced;
    private readonly double[] _sums = new double[LevelRing];
    private readonly double[] _squares = new double[LevelRing];
    private readonly float[] _levels;
    private readonly float[] _clarities;
    private readonly int _lanes = LaneSimilarity.Lanes; // a field: methods that name vectors are not compiled ahead of time
    private readonly int _hop;
    private readonly int _levelHops;
    private int _held;        // reduced samples in _reduced; its first lies half a window before the centre of frame _analysed
    private long _analysed;   // frames
    private long _decided;    // frames
    private long _received;   // samples

    /// <summary>Makes a tracer.</summary>
    /// <exception cref="ArgumentException">A setting breaks its rule; the message names each.</exception>
    public PitchTracer(TracerOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        string problems = string.Join(' ', options.Problems());
        if (problems.Length > 0)
        {
            throw new ArgumentException(problems, nameof(options));
        }

        int factor = Math.Max(1, (int)(options.SampleRateHz / Math.Max(LeastRateHz, LeastRatePerHighest * options.HighestPitchHz)));
        double rate = (double)options.SampleRateHz / factor;
        _reducer = new SampleReducer(factor);
        _hop = Math.Max(1, (int)Math.Round(rate * options.HopMs / 1000));
        HopSamples = _hop * factor;
        FramesPerSecond = rate / _hop;
        int window = (int)Math.Round(Math.Max(ShortestWindowSeconds, PeriodsInWindow / options.LowestPitchHz) * rate) & ~1;
        int longestLag = Math.Min((int)(window * 0.66), (int)Math.Ceiling(rate / options.LowestPitchHz) + 2);
        _similarity = new LaneSimilarity(rate, window, longestLag, 0.75 * options.LowestPitchHz);
        _picker = new PeakPicker(_similarity, rate, options.HighestPitchHz);
        _path = new PitchPath((int)Math.Ceiling(SmoothingSeconds * FramesPerSecond));
        _floor = new NoiseFloor(FramesPerSecond);
        _levelHops = Math.Max(1, (int)Math.Round(Math.Max(LevelHalfSeconds, LevelHalfPeriods / options.LowestPitchHz) * options.SampleRateHz / HopSamples));
        _levels = new float[_path.Lag + 1];
        _clarities = new float[_path.Lag + 1];
        _reduced = new float[window + (_lanes * _hop) + 2048];
        Reset();
    }

    /// <summary>Samples of the stream from one frame to the next; frame k is centred on sample k times this.</summary>
    public int HopSamples { get; }

    /// <summary>Samples of the stream for each sample of the analysis; divides <see cref="HopSamples"/>.</summary>
    internal int Factor => _reducer.Factor;

    /// <summary>Frames a second.</summary>
    public double FramesPerSecond { get; }

    /// <summary>The most frames that a block of this many samples, or <see cref="Finish"/> (0 samples), can complete.</summary>
    public int MaxFrames(int sampleCount) => (sampleCount / HopSamples) + (3 * _lanes) + _path.Lag + (_reduced.Length / _hop) + 2;

    /// <summary>Hears a block and writes the frames that it decides.</summary>
    /// <param name="samples">The next samples.</param>
    /// <param name="frames">At least <see cref="MaxFrames"/> long.</param>
    /// <returns>How many frames were written.</returns>
    public int Process(ReadOnlySpan<float> samples, Span<TracedFrame> frames)
    {
        int written = 0;
        while (samples.Length > 0)
        {
            int take = Math.Min(samples.Length, _cleaned.Length);
            Clean(samples[..take], _cleaned);
            TakeLevels(_cleaned.AsSpan(0, take));
            samples = samples[take..];
            written += Reduce(_cleaned.AsSpan(0, take), frames[written..], long.MaxValue);
        }

        return written;
    }

    /// <summary>The stream has ended: writes the frames not yet decided, the last one centred within the sound. Then only Reset may follow.</summary>
    /// <param name="frames">At least MaxFrames(0) long.</param>
    /// <returns>How many frames were written.</returns>
    public int Finish(Span<TracedFrame> frames)
    {
        long last = (_received + HopSamples - 1) / HopSamples; // frames centred before the end
        int written = 0;
        while (_analysed < last)
        {
            Array.Clear(_cleaned);
            TakeLevels(_cleaned);
            written += Reduce(_cleaned, frames[written..], last);
        }

        while (_decided < last)
        {
            frames[written++] = Decided((int)(_analysed - 1 - _decided));
        }

        return written;
    }

    /// <summary>Afterwards the tracer behaves as new.</summary>
    public void Reset()
    {
        _reducer.Reset();
        _path.Reset();
        _floor.Reset();
        Array.Clear(_sums);
        Array.Clear(_squares);
        _held = _similarity.WindowSamples / 2; // silence before the stream
        Array.Clear(_reduced);
        _analysed = 0;
        _decided = 0;
        _received = 0;
    }

    private static void Clean(ReadOnlySpan<float> samples, Span<float> cleaned)
    {
        for (int i = 0; i < samples.Length; i++)
        {
            float x = samples[i];
            cleaned[i] = float.IsFinite(x) ? Math.Clamp(x, -8f, 8f) : 0f;
        }
    }

    // Sums over the stretches between the centres of frames; in double, so that they are the same however the stream is cut.
    private void TakeLevels(ReadOnlySpan<float> samples)
    {
        while (samples.Length > 0)
        {
            long stretch = _received / HopSamples;
            int slot = (int)(stretch % LevelRing);
            int within = (int)(_received - (stretch * HopSamples));
            int take = Math.Min(samples.Length, HopSamples - within);
            double sum = within == 0 ? 0 : _sums[slot];
            double squares = within == 0 ? 0 : _squares[slot];
            foreach (float x in samples[..take])
            {
                sum += x;
                squares += (double)x * x;
            }

            _sums[slot] = sum;
            _squares[slot] = squares;
            _received += take;
            samples = samples[take..];
        }
    }

    private int Reduce(ReadOnlySpan<float> samples, Span<TracedFrame> frames, long lastFrame)
    {
        int written = 0;
        int needed = _similarity.WindowSamples + ((_lanes - 1) * _hop);
        while (samples.Length > 0)
        {
            int made = _reducer.Process(samples, _reduced.AsSpan(_held), out int consumed);
            _held += made;
            samples = samples[consumed..];
            while (_held >= needed && _analysed < lastFrame)
            {
                _similarity.Analyze(_reduced.AsSpan(0, needed), _hop);
                for (int lane = 0; lane < _lanes && _analysed < lastFrame; lane++)
                {
                    AddFrame(lane);
                    if (_analysed - _decided > _path.Lag)
                    {
                        frames[written++] = Decided(_path.Lag);
                    }
                }

                int used = _lanes * _hop;
                _reduced.AsSpan(used, _held - used).CopyTo(_reduced);
                _held -= used;
            }
        }

        return written;
    }

    private void AddFrame(int lane)
    {
        int slot = (int)(_analysed % _levels.Length);
        float level = LevelAt(_analysed);
        int count = level > -115f ? _picker.Pick(lane, _found) : 0;
        float clarity = count > 0 ? _found[0].Clarity : 0;
        float above = level - _floor.Next(level, clarity);
        _path.Add(_found.AsSpan(0, count), LossPerDb * Math.Max(0, NearFloorDb - above));
        _levels[slot] = level;
        _clarities[slot] = clarity;
        _analysed++;
    }

    private TracedFrame Decided(int ago)
    {
        int slot = (int)(_decided % _levels.Length);
        PitchCandidate? pitch = _path.Decide(ago);
        return new TracedFrame(_decided++ * HopSamples, pitch?.Midi ?? float.NaN, pitch?.Clarity ?? _clarities[slot], _levels[slot]);
    }

    private float LevelAt(long frame)
    {
        double sum = 0;
        double squares = 0;
        for (long stretch = frame - _levelHops; stretch < frame + _levelHops; stretch++)
        {
            int slot = (int)((stretch + LevelRing) % LevelRing);
            sum += _sums[slot];
            squares += _squares[slot];
        }

        double count = 2.0 * _levelHops * HopSamples;
        double mean = sum / count;
        return (float)Math.Max(-120, 10 * Math.Log10(Math.Max(0, (squares / count) - (mean * mean)) + 1e-12));
    }
}
