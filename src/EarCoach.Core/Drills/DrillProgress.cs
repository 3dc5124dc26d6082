using EarCoach.Core.Judging;

namespace EarCoach.Core.Drills;

/// <summary>How far a drill has come: only what counts, as a value. Which of the forms it has follows from the kind of drill.</summary>
public abstract record DrillProgress
{
    private DrillProgress()
    {
    }

    /// <summary>Stage after stage (chain, rhythm variants, tempo ladder, trouble spot).</summary>
    /// <param name="Stage">The stage under way, from 0; equal to the number of stages when all are passed.</param>
    /// <param name="Streak">Clean attempts running at this stage.</param>
    /// <param name="Recent">The newest attempts at this stage, where the drill steps down.</param>
    /// <param name="Skipped">How many stages were skipped.</param>
    public sealed record Climb(int Stage, int Streak, RecentAttempts Recent, int Skipped) : DrillProgress;

    /// <summary>Sets of consecutive clean play-throughs (proof).</summary>
    /// <param name="FinishedSets">Finished sets: they stay.</param>
    /// <param name="Streak">Clean play-throughs running in the set under way.</param>
    public sealed record Sets(int FinishedSets, int Streak) : DrillProgress;

    /// <summary>One take (cold take).</summary>
    /// <param name="Taken">Whether it has been played, or given up.</param>
    /// <param name="Verdict">Clean or missed; null when it has not been played, was given up or was disputed.</param>
    public sealed record OneTake(bool Taken, Verdict? Verdict) : DrillProgress;

    /// <summary>Passages in turn (rotation).</summary>
    /// <param name="Turn">Turns finished: round times number of passages, plus passage.</param>
    /// <param name="AttemptsInTurn">Counted attempts in the turn under way.</param>
    /// <param name="CleanInTurn">How many of them were clean.</param>
    /// <param name="Skipped">How many turns were skipped.</param>
    public sealed record Turns(int Turn, int AttemptsInTurn, int CleanInTurn, int Skipped) : DrillProgress;
}
