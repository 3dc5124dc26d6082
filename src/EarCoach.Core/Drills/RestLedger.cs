namespace EarCoach.Core.Drills;

/// <summary>What playing has been done and what rest is owed. Times are seconds on the session's clock.</summary>
public sealed record RestLedger
{
    /// <summary>Seconds played in this session.</summary>
    public double PlayedSeconds { get; init; }

    /// <summary>Seconds played today before this session.</summary>
    public double PlayedEarlierTodaySeconds { get; init; }

    /// <summary>Seconds by which playing is ahead of resting; never negative.</summary>
    public double OwedSeconds { get; init; }

    /// <summary>What was owed when a rest was last proposed; null: none was since the last one taken.</summary>
    public double? ProposedAtOwedSeconds { get; init; }

    /// <summary>Where the stretch of work without a break began; null before the first attempt.</summary>
    public double? WorkSinceSeconds { get; init; }

    /// <summary>Whether a break was proposed in this stretch of work.</summary>
    public bool BreakProposed { get; init; }

    /// <summary>Whether the early break was proposed, or a break was taken before it was due.</summary>
    public bool EarlyBreakDone { get; init; }

    /// <summary>Whether the end for today was proposed.</summary>
    public bool EndProposed { get; init; }

    /// <summary>Where the last attempt ended; null before the first.</summary>
    public double? LastEndSeconds { get; init; }

    /// <summary>Attempts at the stage under way, whatever became of them.</summary>
    public int AttemptsAtStage { get; init; }

    /// <summary>Misses running at the stage under way.</summary>
    public int MissesRunning { get; init; }

    /// <summary>Clean attempts so far, for the sign of tiredness.</summary>
    public int Clean { get; init; }

    /// <summary>The newest four counted attempts.</summary>
    public RecentAttempts Recent { get; init; }

    /// <summary>Whether tiredness was suggested and no break was taken since.</summary>
    public bool TirednessHinted { get; init; }
}
