namespace EarCoach.App.Web.Messages;

/// <summary>A drill that can be chosen.</summary>
internal sealed record PageDrillChoice(string Id, string Name, string About, string UsualTiming, IReadOnlyList<PageNumber> Numbers);
