namespace EarCoach.App.Web.Messages;

/// <summary>The numbers of the drill under way and of its strictness, each with the value now in force.</summary>
internal sealed record PageNumbers(IReadOnlyList<PageNumber> Drill, IReadOnlyList<PageNumber> Strictness);
