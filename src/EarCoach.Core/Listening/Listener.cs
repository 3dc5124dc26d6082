using NWaves.Filters.BiQuad;

namespace EarCoach.Core.Listening;

/// <summary>Turns a stream of samples into frames: pitch candidates, level and noise floor, one every few milliseconds.</summary>
/// <remarks>
/// [one thread] After construction: no allocation, no lock, no clock but the sample count. The frames do not depend on where the
/// stream is cut into blocks. Samples that are no numbers count as silence.
/// </remarks>
public sealed class Listener
{
    private readonly ListenerOptions _options;
    private readonly SampleReducer _reducer;
    private readonly HighPassFilter _highPass1;
    private readonly HighPassFilter _highPass2;
    private readonly PeriodicityAnalyzer _periodicity;
    private readonly NoiseFloor _floor;
    private readonly float[] _ring;
    private readonly float[] _window;
    private readonly float[] _reduced = new float[1024];
    private readonly float[] _cleaned = new float[1024];
    private readonly int _hop;
    private readonly int _levelHalf;
    private long _ringEnd;     // samples at the reduced rate ever written
    private long _nextFrame;
    private long _brokenUntil = long.MinValue; // reduced clock
    private readonly long _start; // reduced clock
    private bool _pendingBreak;

    /// <summary>Makes a listener.</summary>
    /// <param name="options">Its settings.</param>
    /// <param name="startSample">Where on the capture clock its first sample lies; rounded down to a whole sample of the analysis, see <see cref="FirstSample"/>.</param>
    /// <exception cref="ArgumentException">A setting breaks its rule; the message names each.</exception>
    public Listener(ListenerOptions options, long startSample = 0)
    {
        ArgumentNullException.ThrowIfNull(options);
        string problems = string.Join(' ', options.Problems());
        if (problems.Length > 0)
        {
            throw new ArgumentException(problems, nameof(options));
        }

        _options = options;
        int factor = 1;
        while (options.SampleRateHz / (factor + 1) >= Math.Max(22_000, options.HighestPitchHz * 5))
        {
            factor++;
        }

        _reducer = new SampleReducer(factor);
        AnalysisRateHz = (double)options.SampleRateHz / factor;
        _hop = Math.Max(1, (int)Math.Round(AnalysisRateHz * options.HopMs / 1000));
        double windowSeconds = Math.Max(Math.Max(0.032, 2.6 / options.LikelyLowestPitchHz), 1.8 / options.LowestPitchHz);
        int window = (int)Math.Round(windowSeconds * AnalysisRateHz) & ~1;
        _periodicity = new PeriodicityAnalyzer(AnalysisRateHz, window, options.LowestPitchHz, options.HighestPitchHz);
        _levelHalf = (int)Math.Round(AnalysisRateHz * Math.Max(0.005, 0.55 / options.LikelyLowestPitchHz));
        double corner = Math.Clamp(options.LikelyLowestPitchHz * 0.7, 20, 120) / AnalysisRateHz;
        _highPass1 = new HighPassFilter(corner, 0.541196); // two sections of a fourth-order Butterworth filter
        _highPass2 = new HighPassFilter(corner, 1.306563);
        _floor = new NoiseFloor(AnalysisRateHz / _hop);
        _window = new float[window];
        int needed = 1;
        while (needed < window + (2 * _levelHalf) + 8192)
        {
            needed *= 2;
        }

        _ring = new float[needed];
        _start = startSample / factor;
        _ringEnd = _start;
        _nextFrame = (_start + _hop - 1) / _hop;
    }

    /// <summary>Place of its first sample on the capture clock.</summary>
    public long FirstSample => _start * _reducer.Factor;

    /// <summary>Samples a second after the rate was lowered for analysis.</summary>
    public double AnalysisRateHz { get; }

    /// <summary>Samples of the stream for each sample of the analysis.</summary>
    public int Factor => _reducer.Factor;

    /// <summary>Samples of the stream from one frame to the next.</summary>
    public int HopSamples => _hop * _reducer.Factor;

    /// <summary>Frames a second.</summary>
    public double FramesPerSecond => AnalysisRateHz / _hop;

    /// <summary>Samples of the stream from the centre of a frame until it is known.</summary>
    public int LatencySamples => ((_window.Length / 2) * _reducer.Factor) + _reducer.Half;

    /// <summary>The most frames that a block of this many samples can complete.</summary>
    public int MaxFrames(int sampleCount) => (sampleCount / HopSamples) + 2;

    /// <summary>Hears a block and writes the frames it completes.</summary>
    /// <param name="block">The next samples.</param>
    /// <param name="frames">At least <see cref="MaxFrames"/> long.</param>
    /// <param name="samples">Receives the analysed samples (lowered rate, rumble removed) from the last call's end on; may be null.</param>
    /// <returns>How many frames were written.</returns>
    public int Process(AudioBlock block, Span<HeardFrame> frames, AnalysisSamples? samples = null)
    {
        if (block.FollowsGap)
        {
            _pendingBreak = true;
        }

        int written = 0;
        ReadOnlySpan<float> rest = block.Samples;
        while (rest.Length > 0)
        {
            int take = Math.Min(rest.Length, _cleaned.Length);
            for (int i = 0; i < take; i++)
            {
                float x = rest[i];
                _cleaned[i] = float.IsFinite(x) ? Math.Clamp(x, -8f, 8f) : 0f;
            }

            rest = rest[take..];
            ReadOnlySpan<float> part = _cleaned.AsSpan(0, take);
            while (part.Length > 0)
            {
                int made = _reducer.Process(part, _reduced, out int consumed);
                part = part[consumed..];
                for (int i = 0; i < made; i++)
                {
                    float y = _highPass2.Process(_highPass1.Process(_reduced[i]));
                    _reduced[i] = y;
                    _ring[_ringEnd & (_ring.Length - 1)] = y;
                    _ringEnd++;
                    if (_pendingBreak)
                    {
                        _brokenUntil = _ringEnd + _hop;
                        _pendingBreak = false;
                    }

                    if (_ringEnd - (_window.Length / 2) >= _nextFrame * _hop)
                    {
                        frames[written++] = MakeFrame();
                    }
                }

                samples?.Append(_reduced.AsSpan(0, made));
            }
        }

        return written;
    }

    /// <summary>Afterwards the listener behaves as new.</summary>
    public void Reset()
    {
        _reducer.Reset();
        _highPass1.Reset();
        _highPass2.Reset();
        _floor.Reset();
        Array.Clear(_ring);
        _ringEnd = _start;
        _nextFrame = (_start + _hop - 1) / _hop;
        _brokenUntil = long.MinValue;
        _pendingBreak = false;
    }

    private HeardFrame MakeFrame()
    {
        long centre = _nextFrame * _hop;
        _nextFrame++;
        CopyFromRing(centre - (_window.Length / 2), _window);
        HeardFrame frame = default;
        frame.CentreSample = centre * _reducer.Factor;
        frame.LevelDbfs = LevelInWindow();
        frame.CandidateCount = frame.LevelDbfs > -115f ? _periodicity.Analyze(_window, ref frame.Candidates) : 0;
        frame.FloorDbfs = _floor.Next(frame.LevelDbfs, frame.Clarity);
        frame.Broken = centre - (_window.Length / 2) < _brokenUntil;
        return frame;
    }

    private void CopyFromRing(long from, Span<float> to)
    {
        for (int i = 0; i < to.Length; i++)
        {
            long at = from + i;
            to[i] = at < 0 ? 0f : _ring[at & (_ring.Length - 1)];
        }
    }

    private float LevelInWindow()
    {
        double sum = 0;
        double weights = 0;
        int half = Math.Min(_levelHalf, (_window.Length / 2) - 1);
        int middle = _window.Length / 2;
        for (int i = -half; i <= half; i++)
        {
            double weight = 1 - Math.Abs(i / (half + 1.0)); // a triangle: no jumps when a peak enters or leaves
            double x = _window[middle + i];
            sum += weight * x * x;
            weights += weight;
        }

        return (float)Math.Max(-120, 10 * Math.Log10((sum / weights) + 1e-12));
    }
}
