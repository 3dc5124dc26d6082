namespace EarCoach.App.Web.Messages;

/// <summary>One of several words to choose from.</summary>
internal sealed record PageChoice(string Id, string Name);
