namespace EarCoach.App.Web.Messages;

/// <summary>An instrument to choose.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">Its name.</param>
/// <param name="Words">Other words to find it by.</param>
/// <param name="About">Transposition and range, in words.</param>
/// <param name="Crooks">The crooks of its older parts; null: it has none.</param>
internal sealed record PageInstrument(string Id, string Name, string Words, string About, IReadOnlyList<PageChoice>? Crooks);
