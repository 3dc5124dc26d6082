using EarCoach.Core.Listening;

namespace EarCoach.App.Commands;

/// <summary>The frames of a trace, from the listener alone.</summary>
internal sealed class TraceSource
{
    private const double LeastClarity = 0.6;
    private readonly Listener _listener;
    private readonly HeardFrame[] _frames;
    private readonly int _sampleRateHz;
    private long _clock;

    public TraceSource(ListenerOptions options, int longestBlock)
    {
        _listener = new Listener(options);
        _sampleRateHz = options.SampleRateHz;
        _frames = new HeardFrame[_listener.MaxFrames(longestBlock)];
    }

    /// <summary>Hears the next samples and hands out each frame that they complete.</summary>
    public void Hear(ReadOnlySpan<float> samples, Action<TraceFrame> write)
    {
        int count = _listener.Process(new AudioBlock(samples, _clock), _frames);
        _clock += samples.Length;
        for (int i = 0; i < count; i++)
        {
            ref readonly HeardFrame frame = ref _frames[i];
            double? hz = frame.Clarity >= LeastClarity ? 440 * Math.Pow(2, (frame.Midi - 69) / 12) : null;
            write(new TraceFrame((double)frame.CentreSample / _sampleRateHz, hz, frame.LevelDbfs));
        }
    }
}
