using System.Collections.Immutable;

namespace EarCoach.Core.Drills;

/// <summary>Stage after stage: so many clean attempts running pass a stage; a miss empties the count, and may step down.</summary>
internal sealed class ClimbRules(ImmutableArray<DrillTask> stages, int cleanInARow, int dropMisses, int dropWindow) : IDrillRules
{
    private readonly ImmutableArray<DrillTask> _stages = stages;

    public DrillProgress Begin() => new DrillProgress.Climb(0, 0, default, 0);

    public DrillTask? TaskOf(DrillProgress progress) => progress is DrillProgress.Climb climb && climb.Stage < _stages.Length ? _stages[climb.Stage] : null;

    public DrillProgress Judged(DrillProgress progress, bool clean, List<DrillEffect> effects)
    {
        if (progress is not DrillProgress.Climb climb)
        {
            return progress;
        }

        if (!clean)
        {
            return Missed(climb, effects);
        }

        int streak = climb.Streak + 1;
        effects.Add(new DrillEffect.Advanced(streak, cleanInARow));
        if (streak < cleanInARow)
        {
            return climb with { Streak = streak, Recent = climb.Recent.With(missed: false, dropWindow) };
        }

        effects.Add(new DrillEffect.StagePassed(climb.Stage));
        return climb with { Stage = climb.Stage + 1, Streak = 0, Recent = default };
    }

    public DrillProgress Skipped(DrillProgress progress) => progress is DrillProgress.Climb climb && climb.Stage < _stages.Length
        ? new DrillProgress.Climb(climb.Stage + 1, 0, default, climb.Skipped + 1)
        : progress;

    public DrillProgress Repeated(DrillProgress progress) => progress switch
    {
        DrillProgress.Climb { Streak: > 0 } climb => climb with { Streak = 0, Recent = default },
        DrillProgress.Climb { Stage: > 0 } climb => climb with { Stage = climb.Stage - 1, Recent = default },
        _ => progress,
    };

    public DrillProgress CarriedOver(DrillProgress progress, IDrillRules earlier)
    {
        if (progress is not DrillProgress.Climb climb || earlier.TaskOf(progress) is not { } old)
        {
            return progress;
        }

        int stage = 0;
        bool sameVariant = false;
        for (int i = 0; i < _stages.Length; i++)
        {
            bool same = _stages[i].VariantCode == old.VariantCode && _stages[i].Scaling == old.Scaling && _stages[i].Scope == old.Scope;
            bool newTempo = _stages[i].QuartersPerMinute != _stages[stage].QuartersPerMinute;
            if (IsNoHarder(_stages[i], old) && (same || (newTempo && !sameVariant)))
            {
                stage = i;
                sameVariant |= same;
            }
        }

        return _stages[stage] == old
            ? climb with { Stage = stage, Streak = Math.Min(climb.Streak, cleanInARow - 1), Recent = default }
            : climb with { Stage = stage, Streak = 0, Recent = default };
    }

    public (int Stage, int Stages, int Count, int Needed, int Seals, int Skipped) Numbers(DrillProgress progress) =>
        progress is DrillProgress.Climb climb ? (climb.Stage, _stages.Length, climb.Streak, cleanInARow, 0, climb.Skipped) : default;

    private static bool IsNoHarder(DrillTask task, DrillTask old) =>
        task.PassageIndex == old.PassageIndex
        && task.FirstNote >= old.FirstNote
        && task.FirstNote + task.NoteCount <= old.FirstNote + old.NoteCount
        && (task.QuartersPerMinute is not { } tempo || old.QuartersPerMinute is not { } oldTempo || tempo <= oldTempo + 1e-9);

    private DrillProgress.Climb Missed(DrillProgress.Climb climb, List<DrillEffect> effects)
    {
        if (climb.Streak > 0)
        {
            effects.Add(new DrillEffect.CountEmptied(climb.Streak));
        }

        RecentAttempts recent = climb.Recent.With(missed: true, dropWindow);
        if (dropMisses == 0 || recent.Misses < dropMisses)
        {
            return climb with { Streak = 0, Recent = recent };
        }

        if (climb.Stage == 0)
        {
            effects.Add(new DrillEffect.EasierProposed(EasierReason.LowestTempo));
            return climb with { Streak = 0, Recent = default };
        }

        effects.Add(new DrillEffect.SteppedDown(climb.Stage - 1));
        return climb with { Stage = climb.Stage - 1, Streak = 0, Recent = default };
    }
}
