namespace EarCoach.App.Web.Messages;

/// <summary>All that the page shows of one passage of the library.</summary>
internal sealed record PageLibraryPassage
{
    public required Guid Id { get; init; }

    public required string Title { get; init; }

    public string? InstrumentId { get; init; }

    public required string Instrument { get; init; }

    /// <summary>The crook of a horn part; null: none of its own.</summary>
    public string? CrookId { get; init; }

    /// <summary>How the part is written, in words.</summary>
    public required string Transposition { get; init; }

    public required IReadOnlyList<string> Tags { get; init; }

    public double? GoalQuartersPerMinute { get; init; }

    public required double QuartersPerMinute { get; init; }

    public DateOnly? PerformanceDate { get; init; }

    public required PageStrictness Strictness { get; init; }

    public required IReadOnlyList<PageLibraryNote> Notes { get; init; }

    public Guid? PartId { get; init; }

    /// <summary>Where it comes from, in words; null: it is a whole.</summary>
    public string? PartWords { get; init; }

    /// <summary>What the instrument can hardly play, in words; null: nothing.</summary>
    public string? RangeWarning { get; init; }

    public required IReadOnlyList<PageVariant> Variants { get; init; }
}
