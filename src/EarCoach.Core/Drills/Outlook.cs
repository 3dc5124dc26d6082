using EarCoach.Core.Progress;

namespace EarCoach.Core.Drills;

/// <summary>What a drill still asks for, by what it has shown.</summary>
public static class Outlook
{
    private const int FewestCounted = 3; // before, the guess would be the prior's alone

    /// <summary>Attempts still expected at the rate of clean ones so far: of a proof to its last seal, of a drill by stages to the end of the
    /// stage. Null before three were counted, and for drills that do not wait for a run.</summary>
    public static double? ExpectedAttemptsLeft(DrillView view)
    {
        ArgumentNullException.ThrowIfNull(view);
        if (view.Task is null || view.Tally.Clean + view.Tally.Missed < FewestCounted || view.Kind is DrillKind.ColdTake or DrillKind.Rotation)
        {
            return null;
        }

        double chance = new Reliability(view.Tally.Clean, view.Tally.Missed).Mean;
        int sets = view.Kind == DrillKind.Proof ? view.Stages - view.Stage : 1;
        return RunOdds.ExpectedAttemptsLeft(chance, sets, view.Needed, view.Count);
    }
}
