using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;

namespace EarCoach.App.Commands;

/// <summary>The frames of a trace from the newest reading of the ear.</summary>
internal sealed class LiveTraceSource(int sampleRateHz)
{
    private readonly Ear _ear = new(sampleRateHz, new JudgingTask(
        new Passage { Title = "trace", Notes = [new PassageNote { MidiPitch = 69, Onset = 0, Length = 1 }] }, null, new Tolerances()));

    private long _clock;
    private long _given = -1;

    public void Hear(ReadOnlySpan<float> samples)
    {
        _ear.Hear(new AudioBlock(samples, _clock));
        _clock += samples.Length;
    }

    public void Finish() => _ear.Finish();

    public bool TryTake(out TraceFrame frame)
    {
        LiveReading live = _ear.Live;
        frame = new TraceFrame((double)live.AtSample / sampleRateHz, live.FrequencyHz, live.LevelDbfs);
        bool isNew = live.AtSample != _given;
        _given = live.AtSample;
        return isNew;
    }
}
