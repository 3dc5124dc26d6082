namespace EarCoach.App.Web.Messages;

/// <summary>The change of the library that can be taken back.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Words">What was done.</param>
internal sealed record PageUndo(long Number, string Words);
