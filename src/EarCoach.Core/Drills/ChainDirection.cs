namespace EarCoach.Core.Drills;

/// <summary>Which way a chain grows.</summary>
public enum ChainDirection
{
    /// <summary>Later notes are added at the end.</summary>
    Forward,

    /// <summary>Earlier notes are added at the front.</summary>
    Backward,
}
