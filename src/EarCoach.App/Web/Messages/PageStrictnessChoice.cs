namespace EarCoach.App.Web.Messages;

/// <summary>A strictness that can be chosen.</summary>
internal sealed record PageStrictnessChoice(string Id, string Name, string About, bool Usual, IReadOnlyList<PageNumber> Numbers);
