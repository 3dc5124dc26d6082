namespace EarCoach.App.Web.Messages;

/// <summary>The count.</summary>
internal sealed record PageDrill
{
    public required string Kind { get; init; }

    public required string Name { get; init; }

    public required string Phase { get; init; }

    public required int Stage { get; init; }

    public required int Stages { get; init; }

    public required int Count { get; init; }

    public required int Needed { get; init; }

    public required int Seals { get; init; }

    public required int Skipped { get; init; }
}
