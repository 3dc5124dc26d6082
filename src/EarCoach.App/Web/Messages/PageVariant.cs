namespace EarCoach.App.Web.Messages;

/// <summary>A rhythm variant that fits a passage.</summary>
/// <param name="Id">Its code.</param>
/// <param name="Name">Code and name.</param>
/// <param name="Usual">Whether it is among those that are practised unless others are chosen.</param>
internal sealed record PageVariant(string Id, string Name, bool Usual);
