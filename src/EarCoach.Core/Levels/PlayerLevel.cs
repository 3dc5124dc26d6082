namespace EarCoach.Core.Levels;

/// <summary>Who is playing: sets how strict the judge is, where the player says nothing else.</summary>
public enum PlayerLevel
{
    /// <summary>First years.</summary>
    Beginner,

    /// <summary>Plays for pleasure.</summary>
    Amateur,

    /// <summary>Conservatoire.</summary>
    Advanced,

    /// <summary>Auditions and the stage.</summary>
    Professional,
}
