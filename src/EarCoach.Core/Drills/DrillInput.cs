using EarCoach.Core.Judging;

namespace EarCoach.Core.Drills;

/// <summary>What can happen to a drill. A drill's log of inputs, replayed, gives its state again.</summary>
public abstract record DrillInput
{
    private DrillInput()
    {
    }

    /// <summary>An attempt at the present task was judged.</summary>
    /// <param name="Verdict">What it counts as.</param>
    /// <param name="StartSeconds">Its start on the session's clock.</param>
    /// <param name="EndSeconds">Its end on the session's clock.</param>
    public sealed record AttemptJudged(Verdict Verdict, double StartSeconds, double EndSeconds) : DrillInput;

    /// <summary>The player disputes the last verdict: it becomes not counted, never clean, and the count goes back to what it was before it.</summary>
    public sealed record Disputed : DrillInput;

    /// <summary>The player pauses.</summary>
    public sealed record Paused : DrillInput;

    /// <summary>The player goes on.</summary>
    public sealed record Resumed : DrillInput;

    /// <summary>The player leaves the present stage for the next. A set can't be skipped: it has to be played.</summary>
    public sealed record Skipped : DrillInput;

    /// <summary>The player starts the present stage over; with nothing counted in it yet, the stage before.</summary>
    public sealed record Repeated : DrillInput;

    /// <summary>The player changed numbers. The kind of drill stays; a plan with problems changes nothing.</summary>
    /// <param name="Plan">The new plan.</param>
    public sealed record PlanChanged(DrillPlan Plan) : DrillInput;
}
