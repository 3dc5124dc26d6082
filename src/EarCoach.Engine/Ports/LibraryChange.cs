namespace EarCoach.Engine.Ports;

/// <summary>A change of the library that can be taken back.</summary>
/// <param name="Number">Its number; later changes have higher ones.</param>
/// <param name="Kind">What was done.</param>
/// <param name="PassageId">To which passage.</param>
/// <param name="Title">Its title before.</param>
public sealed record LibraryChange(long Number, LibraryChangeKind Kind, Guid PassageId, string Title);
