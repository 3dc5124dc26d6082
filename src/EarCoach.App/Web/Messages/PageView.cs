namespace EarCoach.App.Web.Messages;

/// <summary>The session as the page draws it.</summary>
internal sealed record PageView
{
    public required Guid SessionId { get; init; }

    public required string Word { get; init; }

    public required PagePassage Passage { get; init; }

    public required PageDrill Drill { get; init; }

    public PageTask? Task { get; init; }

    public PageAttempt? Last { get; init; }

    public required bool CanDispute { get; init; }

    public PageRest? Rest { get; init; }

    public string? Hint { get; init; }

    public required double PlayedSeconds { get; init; }
}
