namespace EarCoach.App.Web.Messages;

/// <summary>A passage in the list of the library.</summary>
internal sealed record PageLibraryRow
{
    public required Guid Id { get; init; }

    public required string Title { get; init; }

    public required string Instrument { get; init; }

    public required IReadOnlyList<string> Tags { get; init; }

    public required int Notes { get; init; }

    /// <summary>In words.</summary>
    public required string Bars { get; init; }

    /// <summary>The goal, else the tempo of the part.</summary>
    public required double QuartersPerMinute { get; init; }

    public required bool HasGoal { get; init; }

    public DateOnly? PerformanceDate { get; init; }

    /// <summary>Whole days until then; negative when it is over.</summary>
    public int? DaysLeft { get; init; }

    public required DateTimeOffset AddedAt { get; init; }

    /// <summary>Title of the part that it was cut from.</summary>
    public string? PartTitle { get; init; }
}
