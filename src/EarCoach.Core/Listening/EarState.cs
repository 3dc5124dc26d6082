namespace EarCoach.Core.Listening;

/// <summary>What the ear is doing.</summary>
public enum EarState
{
    /// <summary>Measuring the room, or waiting for the first note.</summary>
    Ready,

    /// <summary>An attempt is under way.</summary>
    Listening,
}
