namespace EarCoach.App.Web.Messages;

/// <summary>A passage that was read but not yet kept.</summary>
internal sealed record PageReading
{
    public required string Title { get; init; }

    public string? InstrumentId { get; init; }

    public required string Instrument { get; init; }

    /// <summary>The crook of a horn part; null: none of its own.</summary>
    public string? CrookId { get; init; }

    /// <summary>Notes, bars and how the part is written, in words.</summary>
    public required string About { get; init; }

    /// <summary>The notation.</summary>
    public required string MusicXml { get; init; }

    /// <summary>What was left out or read more plainly than it is printed.</summary>
    public required IReadOnlyList<string> Remarks { get; init; }

    /// <summary>What the instrument can hardly play, in words; null: nothing.</summary>
    public string? RangeWarning { get; init; }
}
