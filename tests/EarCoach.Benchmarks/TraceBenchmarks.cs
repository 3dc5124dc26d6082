using BenchmarkDotNet.Attributes;
using EarCoach.Core.Tracing;
using EarCoach.Core.Transcription;

namespace EarCoach.Benchmarks;

/// <summary>What tracing pitch and notes without a passage costs, per 20 ms of a recorded practice session of a horn. Nothing may be allocated.</summary>
[MemoryDiagnoser]
public class TraceBenchmarks
{
    private const int BlockMs = 20;
    private readonly RecordedSession _session = new("horn-valley-call");
    private PitchTracer _pitch = null!;
    private NoteTracer _notes = null!;
    private TracedFrame[] _frames = null!;
    private HeardNote[] _heard = null!;
    private int _blockLength;
    private int _at;

    /// <summary>Makes the tracers.</summary>
    [GlobalSetup]
    public void Setup()
    {
        var options = new TracerOptions { SampleRateHz = _session.SampleRateHz };
        _blockLength = _session.SampleRateHz * BlockMs / 1000;
        _pitch = new PitchTracer(options);
        _notes = new NoteTracer(options);
        _frames = new TracedFrame[_pitch.MaxFrames(_blockLength)];
        _heard = new HeardNote[_notes.MaxNotes(_blockLength)];
    }

    /// <summary>Pitch and level.</summary>
    [Benchmark]
    public int PitchPerBlock() => _pitch.Process(NextBlock(), _frames);

    /// <summary>Notes, with their onsets.</summary>
    [Benchmark]
    public int NotesPerBlock() => _notes.Process(NextBlock(), _heard);

    private ReadOnlySpan<float> NextBlock()
    {
        _at = _at + (2 * _blockLength) > _session.Samples.Length ? 0 : _at + _blockLength;
        return _session.Samples.AsSpan(_at, _blockLength);
    }
}
