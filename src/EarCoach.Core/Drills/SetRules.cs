namespace EarCoach.Core.Drills;

/// <summary>Sets of consecutive clean attempts. A miss empties the set under way; a finished set is never touched again.</summary>
internal sealed class SetRules(DrillTask task, int sets, int cleanInARow) : IDrillRules
{
    public DrillProgress Begin() => new DrillProgress.Sets(0, 0);

    public DrillTask? TaskOf(DrillProgress progress) => progress is DrillProgress.Sets s && s.FinishedSets < sets ? task : null;

    public DrillProgress Judged(DrillProgress progress, bool clean, List<DrillEffect> effects)
    {
        if (progress is not DrillProgress.Sets s)
        {
            return progress;
        }

        if (!clean)
        {
            if (s.Streak > 0)
            {
                effects.Add(new DrillEffect.CountEmptied(s.Streak));
            }

            return s with { Streak = 0 };
        }

        int streak = s.Streak + 1;
        effects.Add(new DrillEffect.Advanced(streak, cleanInARow));
        if (streak < cleanInARow)
        {
            return s with { Streak = streak };
        }

        effects.Add(new DrillEffect.SetFinished(s.FinishedSets));
        return new DrillProgress.Sets(s.FinishedSets + 1, 0);
    }

    public DrillProgress Skipped(DrillProgress progress) => progress; // a seal is earned or not there

    public DrillProgress Repeated(DrillProgress progress) => progress is DrillProgress.Sets { Streak: > 0 } s ? s with { Streak = 0 } : progress;

    public DrillProgress CarriedOver(DrillProgress progress, IDrillRules earlier) => progress is DrillProgress.Sets s
        ? s with { Streak = earlier.TaskOf(progress) == task ? Math.Min(s.Streak, cleanInARow - 1) : 0 }
        : progress;

    public (int Stage, int Stages, int Count, int Needed, int Seals, int Skipped) Numbers(DrillProgress progress) =>
        progress is DrillProgress.Sets s ? (s.FinishedSets, Math.Max(sets, s.FinishedSets), s.Streak, cleanInARow, s.FinishedSets, 0) : default;
}
