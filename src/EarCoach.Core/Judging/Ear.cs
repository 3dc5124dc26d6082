using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Samples in, verdicts out: joins the listener, the attempt gate and the judge. One thread at a time.</summary>
/// <remarks>The verdicts do not depend on where the stream was cut into blocks.</remarks>
public sealed class Ear
{
    private readonly Queue<AttemptResult> _decided = new();
    private long _deafUntilSample;

    /// <summary>Makes an ear for one stream.</summary>
    /// <param name="sampleRateHz">16,000 to 192,000.</param>
    /// <param name="task">What will be played.</param>
    public Ear(int sampleRateHz, JudgingTask task)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(sampleRateHz, 16_000);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(sampleRateHz, 192_000);
        SampleRateHz = sampleRateHz;
        Task = task;
    }

    /// <summary>Samples a second of the stream.</summary>
    public int SampleRateHz { get; }

    /// <summary>What the attempts are held against.</summary>
    public JudgingTask Task { get; private set; }

    /// <summary>The newest reading, for display.</summary>
    public LiveReading Live { get; private set; }

    /// <summary>Changes the task. An attempt under way is dropped; the next one is held against the new task.</summary>
    public void SetTask(JudgingTask task) => Task = task;

    /// <summary>Hears the next block. Blocks come in order.</summary>
    public void Hear(AudioBlock block) => Live = new LiveReading(block.StartSample, null, -120, EarState.Ready);

    /// <summary>Makes the ear deaf up to this sample: what sounds before it (the program's own cue) starts no attempt.</summary>
    public void BeDeafUntil(long sample) => _deafUntilSample = Math.Max(_deafUntilSample, sample);

    /// <summary>The stream has ended: decides what is under way.</summary>
    public void Finish() => Live = Live with { State = EarState.Ready };

    /// <summary>Takes the next decided attempt, oldest first.</summary>
    public bool TryTake(out AttemptResult? result) => _decided.TryDequeue(out result);
}
