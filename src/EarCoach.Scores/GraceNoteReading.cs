namespace EarCoach.Scores;

/// <summary>What becomes of grace notes, which have no time of their own.</summary>
public enum GraceNoteReading
{
    /// <summary>They take a little time from the note before them, may be played or left out, and their timing is not judged.</summary>
    Optional,

    /// <summary>They are left out.</summary>
    Dropped,
}
