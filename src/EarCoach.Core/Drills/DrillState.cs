namespace EarCoach.Core.Drills;

/// <summary>A drill under way, as a value: the plan, how far it has come, what it has cost.</summary>
public sealed record DrillState
{
    /// <summary>The numbers now in force.</summary>
    public required DrillPlan Plan { get; init; }

    /// <summary>How far it has come.</summary>
    public required DrillProgress Progress { get; init; }

    /// <summary>Whether attempts count.</summary>
    public DrillPhase Phase { get; init; } = DrillPhase.Active;

    /// <summary>How many attempts of each verdict.</summary>
    public AttemptTally Tally { get; init; }

    /// <summary>The attempt that a dispute would take back; null when there is none.</summary>
    public DisputableAttempt? Last { get; init; }

    /// <summary>Playing and resting.</summary>
    public RestLedger Rests { get; init; } = new();
}
