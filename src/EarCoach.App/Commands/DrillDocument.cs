namespace EarCoach.App.Commands;

/// <summary>What `drill --json` writes.</summary>
internal sealed record DrillDocument
{
    public required Guid SessionId { get; init; }

    public required string Kind { get; init; }

    public required IReadOnlyList<PassageJson> Passages { get; init; }

    public required IReadOnlyList<string> Remarks { get; init; }

    public required IReadOnlyList<DrillAttemptJson> Attempts { get; init; }

    public required DrillCountJson Count { get; init; }

    public required DrillTallyJson Summary { get; init; }
}
