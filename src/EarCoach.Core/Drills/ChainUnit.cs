namespace EarCoach.Core.Drills;

/// <summary>How much a chain grows by.</summary>
public enum ChainUnit
{
    /// <summary>One note.</summary>
    Note,

    /// <summary>Up to the next beat on which, or after which, a note begins.</summary>
    Beat,

    /// <summary>Up to the next bar in which a note begins.</summary>
    Bar,
}
