using BenchmarkDotNet.Attributes;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;

namespace EarCoach.Benchmarks;

/// <summary>What hearing and judging cost on a recorded practice session of a horn.</summary>
[MemoryDiagnoser]
public class EarBenchmarks
{
    private const int BlockMs = 20;
    private readonly RecordedSession _session = new("horn-valley-call");
    private Listener _listener = null!;
    private HeardFrame[] _frames = null!;
    private int _blockLength;
    private long _clock;
    private int _at;

    /// <summary>Warms the listener up over the first attempt.</summary>
    [GlobalSetup]
    public void Setup()
    {
        _listener = new Listener(new ListenerOptions { SampleRateHz = _session.SampleRateHz });
        _blockLength = _session.SampleRateHz * BlockMs / 1000;
        _frames = new HeardFrame[_listener.MaxFrames(_blockLength)];
        for (int i = 0; i < 1000; i++)
        {
            ListenerPerBlock();
        }
    }

    /// <summary>The listener alone: 20 ms of sound in, frames out. Nothing may be allocated.</summary>
    [Benchmark]
    public int ListenerPerBlock()
    {
        if (_at + _blockLength > _session.Samples.Length)
        {
            _at = 0;
        }

        int count = _listener.Process(new AudioBlock(_session.Samples.AsSpan(_at, _blockLength), _clock), _frames);
        _at += _blockLength;
        _clock += _blockLength;
        return count;
    }

    /// <summary>The whole session of six attempts, divided by six: what an attempt costs with all its listening.</summary>
    [Benchmark(OperationsPerInvoke = 6)]
    public int ListeningAndJudgePerAttempt()
    {
        var ear = new Ear(_session.SampleRateHz, _session.Task);
        for (int at = 0; at < _session.Samples.Length; at += _blockLength)
        {
            ear.Hear(new AudioBlock(_session.Samples.AsSpan(at, Math.Min(_blockLength, _session.Samples.Length - at)), at));
        }

        ear.Finish();
        int decided = 0;
        while (ear.TryTake(out _))
        {
            decided++;
        }

        return decided == 6 ? decided : throw new InvalidOperationException($"{decided} attempts were heard, not the 6 of the recording.");
    }
}
