using EarCoach.App.Verdicts;

namespace EarCoach.App.Commands;

/// <summary>An attempt, the task it was made at, and the count with it.</summary>
internal sealed record DrillAttemptJson
{
    /// <summary>The number of its entry in the session's log.</summary>
    public required int Number { get; init; }

    public required DrillTaskJson Task { get; init; }

    public required AttemptJson Attempt { get; init; }

    public required string Headline { get; init; }

    public required IReadOnlyList<string> Lines { get; init; }

    public required DrillCountJson Count { get; init; }
}
