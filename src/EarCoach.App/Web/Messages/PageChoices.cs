namespace EarCoach.App.Web.Messages;

/// <summary>What the first screen offers; how strictly one can be judged depends on the passage.</summary>
internal sealed record PageChoices(IReadOnlyList<PagePassageChoice> Passages, IReadOnlyList<PageDrillChoice> Drills);
