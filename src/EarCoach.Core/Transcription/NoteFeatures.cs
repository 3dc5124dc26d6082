using System.Numerics;
using EarCoach.Core.Listening;
using EarCoach.Core.Tracing;

namespace EarCoach.Core.Transcription;

/// <summary>Pitch, level and what is new, frame by frame: what notes are found by. The last five seconds are kept.</summary>
/// <remarks>[one thread] Allocates nothing after construction; does not depend on where the stream is cut into blocks.</remarks>
internal sealed class NoteFeatures
{
    /// <summary>Frames that are kept.</summary>
    public const int Kept = 1024;

    private const double FluxWindowSeconds = 0.032;
    private const double LeastFluxRateHz = 20_000;
    private readonly PitchTracer _tracer;
    private readonly SampleReducer _reducer;
    private readonly LaneFlux _newness;
    private readonly TracedFrame[] _traced;
    private readonly TracedFrame[] _frames = new TracedFrame[Kept];
    private readonly float[] _flux = new float[Kept];
    private readonly float[] _lane = new float[Vector<float>.Count];
    private readonly float[] _cleaned = new float[Piece];
    private readonly float[] _reduced;
    private readonly int _hop;
    private int _held;
    private long _fluxFrames;
    private long _pitchFrames;

    public NoteFeatures(TracerOptions options)
    {
        _tracer = new PitchTracer(options);
        _traced = new TracedFrame[Math.Max(_tracer.MaxFrames(Piece), _tracer.MaxFrames(0))];
        int factor = 1;
        for (int f = 2; f <= _tracer.Factor; f++)
        {
            factor = _tracer.Factor % f == 0 && options.SampleRateHz / f >= LeastFluxRateHz ? f : factor; // divides the hop
        }

        double rate = (double)options.SampleRateHz / factor;
        _reducer = new SampleReducer(factor);
        _hop = _tracer.HopSamples / factor;
        _newness = new LaneFlux(rate, (int)(rate * FluxWindowSeconds) & ~1, _hop);
        _reduced = new float[_newness.WindowSamples + (_lane.Length * _hop) + 2048];
        Reset();
    }

    /// <summary>The most samples that <see cref="Add"/> takes at once.</summary>
    public const int Piece = 1024;

    /// <summary>Samples of the stream from frame to frame; frame k is centred on sample k times this.</summary>
    public int HopSamples => _tracer.HopSamples;

    /// <summary>Frames a second.</summary>
    public double FramesPerSecond => _tracer.FramesPerSecond;

    /// <summary>Frames of which everything is known.</summary>
    public long Count => Math.Min(_pitchFrames, _fluxFrames);

    /// <summary>Pitch and level of a frame that is kept.</summary>
    public ref readonly TracedFrame this[long frame] => ref _frames[frame & (Kept - 1)];

    /// <summary>How much is new at a frame that is kept, in nepers of a band's compressed magnitude.</summary>
    public float Flux(long frame) => _flux[frame & (Kept - 1)];

    /// <summary>Hears the next samples, at most <see cref="Piece"/>.</summary>
    public void Add(ReadOnlySpan<float> samples)
    {
        Keep(_traced.AsSpan(0, _tracer.Process(samples, _traced)));
        for (int i = 0; i < samples.Length; i++)
        {
            _cleaned[i] = float.IsFinite(samples[i]) ? Math.Clamp(samples[i], -8f, 8f) : 0f;
        }

        Reduce(_cleaned.AsSpan(0, samples.Length));
    }

    /// <summary>The stream has ended: the last frames become known.</summary>
    public void Finish()
    {
        Keep(_traced.AsSpan(0, _tracer.Finish(_traced)));
        Array.Clear(_cleaned);
        while (_fluxFrames < _pitchFrames)
        {
            Reduce(_cleaned);
        }
    }

    /// <summary>Afterwards it behaves as new.</summary>
    public void Reset()
    {
        _tracer.Reset();
        _reducer.Reset();
        _newness.Reset();
        Array.Clear(_reduced);
        _held = _newness.WindowSamples / 2; // silence before the stream
        _fluxFrames = 0;
        _pitchFrames = 0;
    }

    private void Keep(ReadOnlySpan<TracedFrame> frames)
    {
        foreach (TracedFrame frame in frames)
        {
            _frames[_pitchFrames & (Kept - 1)] = frame;
            _pitchFrames++;
        }
    }

    private void Reduce(ReadOnlySpan<float> samples)
    {
        int needed = _newness.WindowSamples + ((_lane.Length - 1) * _hop);
        while (samples.Length > 0)
        {
            _held += _reducer.Process(samples, _reduced.AsSpan(_held), out int consumed);
            samples = samples[consumed..];
            while (_held >= needed)
            {
                _newness.Analyze(_reduced.AsSpan(0, needed), _hop, _lane);
                foreach (float flux in _lane)
                {
                    _flux[_fluxFrames & (Kept - 1)] = flux;
                    _fluxFrames++;
                }

                int used = _lane.Length * _hop;
                _reduced.AsSpan(used, _held - used).CopyTo(_reduced);
                _held -= used;
            }
        }
    }
}
