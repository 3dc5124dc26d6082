namespace EarCoach.Engine.Sessions;

/// <summary>The session's state in one word.</summary>
public enum SessionWord
{
    /// <summary>No sound is being received.</summary>
    Waiting,

    /// <summary>Play when you like.</summary>
    Ready,

    /// <summary>An attempt is under way.</summary>
    Listening,

    /// <summary>An attempt seems to have ended and is being decided.</summary>
    Judging,

    /// <summary>A rest is proposed; playing ends it.</summary>
    Rest,

    /// <summary>The player has paused.</summary>
    Paused,

    /// <summary>The drill is done.</summary>
    Done,
}
