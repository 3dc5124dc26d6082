namespace EarCoach.Scores;

/// <summary>Which line of a score to read, and how, whatever its format.</summary>
public sealed record ScoreReadOptions
{
    /// <summary>The usual choice: the only line.</summary>
    public static ScoreReadOptions Default { get; } = new();

    /// <summary>Place of the line among <see cref="ScoreContents.Lines"/>, from 0; null: the only one.</summary>
    public int? Line { get; init; }

    /// <summary>Title of the passage; null: what the file says.</summary>
    public string? Title { get; init; }

    /// <summary>What becomes of repeat signs.</summary>
    public RepeatReading Repeats { get; init; } = RepeatReading.WrittenOut;

    /// <summary>What becomes of grace notes.</summary>
    public GraceNoteReading GraceNotes { get; init; } = GraceNoteReading.Optional;
}
