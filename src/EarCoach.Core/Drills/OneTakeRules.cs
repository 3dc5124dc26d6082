using EarCoach.Core.Judging;

namespace EarCoach.Core.Drills;

/// <summary>One counted attempt, once.</summary>
internal sealed class OneTakeRules(DrillTask task) : IDrillRules
{
    public DrillProgress Begin() => new DrillProgress.OneTake(Taken: false, Verdict: null);

    public DrillTask? TaskOf(DrillProgress progress) => progress is DrillProgress.OneTake { Taken: false } ? task : null;

    public DrillProgress Judged(DrillProgress progress, bool clean, List<DrillEffect> effects)
    {
        if (progress is not DrillProgress.OneTake { Taken: false })
        {
            return progress;
        }

        if (clean)
        {
            effects.Add(new DrillEffect.Advanced(1, 1));
        }

        return new DrillProgress.OneTake(Taken: true, clean ? Verdict.Clean : Verdict.Missed);
    }

    public DrillProgress Skipped(DrillProgress progress) =>
        progress is DrillProgress.OneTake { Taken: false } ? new DrillProgress.OneTake(Taken: true, Verdict: null) : progress;

    public DrillProgress Repeated(DrillProgress progress) => progress; // a second play-through is no first one

    public DrillProgress CarriedOver(DrillProgress progress, IDrillRules earlier) => progress;

    public (int Stage, int Stages, int Count, int Needed, int Seals, int Skipped) Numbers(DrillProgress progress) =>
        progress is DrillProgress.OneTake take ? (take.Taken ? 1 : 0, 1, take.Verdict == Verdict.Clean ? 1 : 0, 1, 0, 0) : default;
}
