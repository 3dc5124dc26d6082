namespace EarCoach.App.Web.Messages;

/// <summary>A line of a file to choose.</summary>
/// <param name="Name">As the file calls it.</param>
/// <param name="About">Notes and range, in words.</param>
/// <param name="Crooks">The horn crooks that its name can mean; several where the player has to say which ("Horn in B flat").</param>
/// <param name="Problem">Why it cannot be read; null where that is not known beforehand.</param>
internal sealed record PageScoreLine(string Name, string About, IReadOnlyList<PageChoice> Crooks, string? Problem);
