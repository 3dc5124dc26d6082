using System.Collections.Immutable;

namespace EarCoach.Core.Drills;

/// <summary>Passages in turn: so many counted attempts each, so many rounds.</summary>
internal sealed class TurnRules(ImmutableArray<DrillTask> tasks, int attemptsEach, int rounds) : IDrillRules
{
    private int Turns => tasks.Length * rounds;

    public DrillProgress Begin() => new DrillProgress.Turns(0, 0, 0, 0);

    public DrillTask? TaskOf(DrillProgress progress) => progress is DrillProgress.Turns t && t.Turn < Turns ? tasks[t.Turn % tasks.Length] : null;

    public DrillProgress Judged(DrillProgress progress, bool clean, List<DrillEffect> effects)
    {
        if (progress is not DrillProgress.Turns t)
        {
            return progress;
        }

        int attempts = t.AttemptsInTurn + 1;
        if (clean)
        {
            effects.Add(new DrillEffect.Advanced(attempts, attemptsEach));
        }

        if (attempts < attemptsEach)
        {
            return t with { AttemptsInTurn = attempts, CleanInTurn = t.CleanInTurn + (clean ? 1 : 0) };
        }

        effects.Add(new DrillEffect.StagePassed(t.Turn));
        return t with { Turn = t.Turn + 1, AttemptsInTurn = 0, CleanInTurn = 0 };
    }

    public DrillProgress Skipped(DrillProgress progress) => progress is DrillProgress.Turns t && t.Turn < Turns
        ? new DrillProgress.Turns(t.Turn + 1, 0, 0, t.Skipped + 1)
        : progress;

    public DrillProgress Repeated(DrillProgress progress) => progress switch
    {
        DrillProgress.Turns { AttemptsInTurn: > 0 } t => t with { AttemptsInTurn = 0, CleanInTurn = 0 },
        DrillProgress.Turns { Turn: > 0 } t => t with { Turn = t.Turn - 1 },
        _ => progress,
    };

    public DrillProgress CarriedOver(DrillProgress progress, IDrillRules earlier) => progress is DrillProgress.Turns t && t.AttemptsInTurn >= attemptsEach
        ? t with { AttemptsInTurn = attemptsEach - 1, CleanInTurn = Math.Min(t.CleanInTurn, attemptsEach - 1) }
        : progress;

    public (int Stage, int Stages, int Count, int Needed, int Seals, int Skipped) Numbers(DrillProgress progress) =>
        progress is DrillProgress.Turns t ? (t.Turn, Math.Max(Turns, t.Turn), t.AttemptsInTurn, attemptsEach, 0, t.Skipped) : default;
}
