namespace EarCoach.Core.Drills;

/// <summary>Whether a drill takes attempts.</summary>
public enum DrillPhase
{
    /// <summary>Attempts count.</summary>
    Active,

    /// <summary>The player has paused: attempts count for nothing.</summary>
    Paused,

    /// <summary>There is nothing more to play.</summary>
    Done,
}
