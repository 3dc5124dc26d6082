namespace EarCoach.Engine.Ports;

/// <summary>What was done to a passage of the library.</summary>
public enum LibraryChangeKind
{
    /// <summary>It was changed.</summary>
    Edited,

    /// <summary>It was deleted.</summary>
    Deleted,
}
