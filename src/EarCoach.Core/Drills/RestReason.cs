namespace EarCoach.Core.Drills;

/// <summary>Why a rest is proposed.</summary>
public enum RestReason
{
    /// <summary>Playing is ahead of resting: rest about as long as you played.</summary>
    PlayedAhead,

    /// <summary>A set is finished.</summary>
    BetweenSets,

    /// <summary>The first minutes of work are over: a break so early helps what was worked on to stay.</summary>
    EarlyBreak,

    /// <summary>A long stretch without a break.</summary>
    LongStretch,

    /// <summary>Misses after many clean attempts: a sign of tiredness.</summary>
    Tiredness,

    /// <summary>The day's playing time is used up.</summary>
    EnoughForToday,
}
