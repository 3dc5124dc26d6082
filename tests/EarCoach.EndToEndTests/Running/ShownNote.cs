namespace EarCoach.EndToEndTests.Running;

/// <summary>A live note that the page showed.</summary>
/// <param name="Note">Its name; "–" when nothing is heard.</param>
/// <param name="AtMs">When, in milliseconds of the wall clock.</param>
/// <param name="CapturedSeconds">The second of the session's sound captured last before.</param>
/// <param name="CapturedAtMs">When that was captured.</param>
internal sealed record ShownNote(string Note, double AtMs, double? CapturedSeconds, double? CapturedAtMs);
