namespace EarCoach.App.Web.Messages;

/// <summary>One thing that was wrong, in words and as a mark.</summary>
/// <param name="Words">The sentence.</param>
/// <param name="Shown">Which of the notes shown it is about, from 0; null: the attempt as a whole.</param>
/// <param name="Fault">Its kind, for example "flat".</param>
/// <param name="Between">Whether it sounded after that note.</param>
internal sealed record PageFault(string Words, int? Shown, string? Fault, bool Between);
