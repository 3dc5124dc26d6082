using EarCoach.Core.Judging;
using EarCoach.Core.Levels;
using EarCoach.Core.Passages;
using EarCoach.Engine;

namespace EarCoach.App.Commands;

/// <summary>What a run of `judge` has found so far.</summary>
internal sealed class JudgeReport(JudgingTask task, IAudioSource source, PlayerLevel? level)
{
    private readonly List<AttemptResult> _attempts = [];
    private int _run;

    public JudgingTask Task { get; } = task;

    public IAudioSource Source { get; } = source;

    public PlayerLevel? Level { get; } = level;

    public BarMap Bars { get; } = new(task.Passage);

    public IReadOnlyList<AttemptResult> Attempts => _attempts;

    /// <summary>Seconds of sound heard.</summary>
    public double HeardSeconds { get; set; }

    public int Clean { get; private set; }

    public int Missed { get; private set; }

    public int NotCounted { get; private set; }

    /// <summary>Most clean attempts one after another; those not counted neither lengthen nor end a run.</summary>
    public int BestRun { get; private set; }

    /// <summary>The tempo asked for, in quarter notes a minute.</summary>
    public double AskedTempo => Task.QuartersPerMinute ?? Task.Passage.Tempi[0].QuartersPerMinute;

    public void Add(AttemptResult attempt)
    {
        _attempts.Add(attempt);
        switch (attempt.Verdict)
        {
            case Verdict.Clean:
                Clean++;
                BestRun = Math.Max(BestRun, ++_run);
                break;
            case Verdict.Missed:
                Missed++;
                _run = 0;
                break;
            default:
                NotCounted++;
                break;
        }
    }
}
