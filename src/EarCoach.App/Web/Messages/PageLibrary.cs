namespace EarCoach.App.Web.Messages;

/// <summary>The library as it is listed.</summary>
/// <param name="Passages">Those that were searched for.</param>
/// <param name="Total">How many there are in all.</param>
/// <param name="Undo">What can be taken back; null: nothing.</param>
internal sealed record PageLibrary(IReadOnlyList<PageLibraryRow> Passages, int Total, PageUndo? Undo);
