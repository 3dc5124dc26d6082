namespace EarCoach.Core.Drills;

/// <summary>Why something easier is proposed.</summary>
public enum EasierReason
{
    /// <summary>So many attempts at one stage without passing it.</summary>
    ManyAttempts,

    /// <summary>So many misses running.</summary>
    MissesRunning,

    /// <summary>The tempo can't step down any further.</summary>
    LowestTempo,
}
