namespace EarCoach.Core.Drills;

/// <summary>What follows from an input, for the page, the terminal and the cues.</summary>
public abstract record DrillEffect
{
    private DrillEffect()
    {
    }

    /// <summary>Another task is to be played from now on.</summary>
    /// <param name="Task">The task.</param>
    public sealed record TaskChanged(DrillTask Task) : DrillEffect;

    /// <summary>A clean attempt counted.</summary>
    /// <param name="Streak">Clean attempts running, this one included.</param>
    /// <param name="Needed">How many are asked for.</param>
    public sealed record Advanced(int Streak, int Needed) : DrillEffect;

    /// <summary>A miss emptied the count of the stage or set under way.</summary>
    /// <param name="Lost">How many clean attempts it held.</param>
    public sealed record CountEmptied(int Lost) : DrillEffect;

    /// <summary>A stage has been passed by its clean attempts.</summary>
    /// <param name="Stage">Which, from 0.</param>
    public sealed record StagePassed(int Stage) : DrillEffect;

    /// <summary>Misses stepped the drill down.</summary>
    /// <param name="Stage">The stage now under way, from 0.</param>
    public sealed record SteppedDown(int Stage) : DrillEffect;

    /// <summary>A set is finished: it has its seal and stays.</summary>
    /// <param name="Set">Which, from 0.</param>
    public sealed record SetFinished(int Set) : DrillEffect;

    /// <summary>The last attempt was taken back.</summary>
    public sealed record TakenBack : DrillEffect;

    /// <summary>A rest is proposed.</summary>
    /// <param name="Reason">Why.</param>
    /// <param name="Seconds">How long; null: for today.</param>
    public sealed record RestProposed(RestReason Reason, double? Seconds) : DrillEffect;

    /// <summary>Something easier is proposed: a slower tempo, a shorter part.</summary>
    /// <param name="Reason">Why.</param>
    public sealed record EasierProposed(EasierReason Reason) : DrillEffect;

    /// <summary>The drill is done.</summary>
    public sealed record Finished : DrillEffect;
}
