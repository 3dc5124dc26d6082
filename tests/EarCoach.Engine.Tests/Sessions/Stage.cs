using EarCoach.Core.Drills;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;

namespace EarCoach.Engine.Tests.Sessions;

/// <summary>A session with a scripted ear, a store in memory and a still clock.</summary>
internal sealed class Stage
{
    public const int RateHz = 16_000;

    private long _heard;

    public Stage(DrillPlan plan, string script, int notes = 4, MemoryStore? store = null, bool takeUp = false, StillTime? time = null)
    {
        Store = store ?? new MemoryStore();
        Time = time ?? new StillTime(new DateTimeOffset(2026, 3, 2, 18, 0, 0, TimeSpan.Zero));
        SessionOptions options = new()
        {
            MakeEar = (rate, task) => Ear = new ScriptedEar(rate, task, i => i < script.Length ? script[i] : 'c'),
        };
        Session = takeUp
            ? PracticeSession.TakeUp(Store.NewestUnfinished()!, Store, Feed, Time, options)
            : PracticeSession.Begin([new SessionPassage(PassageId, PassageOf(notes))], plan, Store, Feed, Time, options);
    }

    public static Guid PassageId { get; } = Guid.Parse("6f1c7b2e-7a53-4c0e-9d0f-0a6f2b1d4c11");

    public MemoryStore Store { get; }

    public StillTime Time { get; }

    public RecordingFeed Feed { get; } = new();

    public PracticeSession Session { get; }

    public ScriptedEar Ear { get; private set; } = null!;

    public static Passage PassageOf(int notes) => new()
    {
        Title = "Invented",
        InstrumentId = "horn-f",
        Notes = [.. Enumerable.Range(0, notes).Select(i => new PassageNote { MidiPitch = 60 + i, Onset = i, Length = 1 })],
    };

    public Stage Open()
    {
        Session.OpenStream(RateHz);
        _heard = 0;
        return this;
    }

    /// <summary>Plays on for so many seconds, in blocks of so many samples; an attempt takes two.</summary>
    public Stage Play(double seconds, int blockSamples = 480)
    {
        long end = _heard + (long)(seconds * RateHz);
        float[] block = new float[blockSamples];
        Array.Fill(block, 0.25f);
        while (_heard < end)
        {
            int length = (int)Math.Min(blockSamples, end - _heard);
            Session.Hear(new AudioBlock(block.AsSpan(0, length), _heard));
            _heard += length;
        }

        return this;
    }

    public Stage LoseSamples(int count, int heardAfter)
    {
        _heard += count;
        Session.Hear(new AudioBlock(new float[heardAfter], _heard, followsGap: true));
        _heard += heardAfter;
        return this;
    }
}
