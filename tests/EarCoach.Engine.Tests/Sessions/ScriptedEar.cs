using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Engine.Sessions;

namespace EarCoach.Engine.Tests.Sessions;

/// <summary>An ear that hears what a script says: one attempt of a second every two seconds of sound, its verdict by letter (c, m, n).</summary>
/// <remarks>The attempt begins half a second after the second mark and is decided half a second after its end.</remarks>
internal sealed class ScriptedEar(int sampleRateHz, JudgingTask task, Func<int, char> script) : ISessionEar
{
    private readonly Queue<AttemptResult> _decided = new();
    private JudgingTask _task = task;
    private long _now;
    private int _attempts;
    private long _dropBeforeSample;

    public List<JudgingTask> TasksSet { get; } = [];

    public (ImmutableArray<double> TonesHz, long UntilSample) Cue { get; private set; }

    public int Gaps { get; private set; }

    public LiveReading Live => new(_now, 440, -20, _now % (2L * sampleRateHz) >= sampleRateHz / 2 && _now % (2L * sampleRateHz) < 3 * sampleRateHz / 2 ? EarState.Listening : EarState.Ready);

    public void Hear(AudioBlock block)
    {
        Gaps += block.FollowsGap ? 1 : 0;
        long before = block.StartSample;
        _now = block.StartSample + block.Samples.Length;
        long period = 2L * sampleRateHz;
        for (long decided = (before / period * period) + period; decided <= _now; decided += period)
        {
            if (decided > before && decided - (3L * sampleRateHz / 2) >= _dropBeforeSample)
            {
                _decided.Enqueue(Result((double)(decided - (3L * sampleRateHz / 2)) / sampleRateHz));
            }
        }
    }

    public void SetTask(JudgingTask task)
    {
        _task = task;
        TasksSet.Add(task);
        _dropBeforeSample = _now;
    }

    public void ExpectCue(ImmutableArray<double> tonesHz, long untilSample) => Cue = (tonesHz, untilSample);

    public void Finish()
    {
    }

    public bool TryTake([NotNullWhen(true)] out AttemptResult? result) => _decided.TryDequeue(out result);

    private AttemptResult Result(double start)
    {
        char letter = script(_attempts++);
        ImmutableArray<NoteResult> notes = [.. _task.Passage.Notes.Select((note, i) => new NoteResult
        {
            Index = i,
            MidiPitch = note.MidiPitch,
            OnsetSeconds = start + (0.1 * i),
            HeardMidi = note.MidiPitch - 0.34,
            CentsOff = i == 0 && letter == 'm' ? -34 : 2,
            Faults = i == 0 && letter == 'm' ? [NoteFault.Flat] : [],
        })];
        return new AttemptResult
        {
            StartSeconds = start,
            EndSeconds = start + 1,
            Verdict = letter switch { 'c' => Verdict.Clean, 'm' => Verdict.Missed, _ => Verdict.NotCounted },
            Reason = letter == 'n' ? "noise" : null,
            Notes = notes,
            Task = _task,
        };
    }
}
