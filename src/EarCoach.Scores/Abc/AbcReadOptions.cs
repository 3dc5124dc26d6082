namespace EarCoach.Scores.Abc;

/// <summary>Which tune of an ABC file to read, and how.</summary>
public sealed record AbcReadOptions
{
    /// <summary>The usual choice: the only tune.</summary>
    public static AbcReadOptions Default { get; } = new();

    /// <summary>Number of the tune in its X: field; null: the only one.</summary>
    public int? TuneNumber { get; init; }

    /// <summary>Title of the passage; null: the first T: field.</summary>
    public string? Title { get; init; }

    /// <summary>Id of the instrument the passage is for; null: not known.</summary>
    public string? InstrumentId { get; init; }

    /// <summary>What becomes of repeat signs.</summary>
    public RepeatReading Repeats { get; init; } = RepeatReading.WrittenOut;

    /// <summary>What becomes of grace notes.</summary>
    public GraceNoteReading GraceNotes { get; init; } = GraceNoteReading.Optional;

    /// <summary>Most notes a passage may have.</summary>
    public int MostNotes { get; init; } = 20_000;
}
