namespace EarCoach.App.Web.Messages;

/// <summary>What the player writes about a passage.</summary>
internal sealed record PageLibraryEdit(string? Title, IReadOnlyList<string>? Tags, double? GoalQuartersPerMinute, DateOnly? PerformanceDate, PageStrictness? Strictness);
