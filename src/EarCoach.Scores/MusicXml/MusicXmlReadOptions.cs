namespace EarCoach.Scores.MusicXml;

/// <summary>Which line of a MusicXML file to read, and how.</summary>
public sealed record MusicXmlReadOptions
{
    /// <summary>The usual choice: the only voice that has notes.</summary>
    public static MusicXmlReadOptions Default { get; } = new();

    /// <summary>Id of the part, for example "P1"; null: the only one with notes.</summary>
    public string? PartId { get; init; }

    /// <summary>Voice of the part, for example "1"; null: the only one with notes.</summary>
    public string? Voice { get; init; }

    /// <summary>Title of the passage; null: that of the work, the movement or the part.</summary>
    public string? Title { get; init; }

    /// <summary>Id of the instrument the passage is for; null: found by the name of the part.</summary>
    public string? InstrumentId { get; init; }

    /// <summary>What becomes of repeat signs.</summary>
    public RepeatReading Repeats { get; init; } = RepeatReading.WrittenOut;

    /// <summary>What becomes of grace notes.</summary>
    public GraceNoteReading GraceNotes { get; init; } = GraceNoteReading.Optional;

    /// <summary>Most notes a passage may have.</summary>
    public int MostNotes { get; init; } = 20_000;
}
