namespace EarCoach.Core.Progress;

/// <summary>The first play-through of a day.</summary>
/// <param name="Day">The day of the player's calendar.</param>
/// <param name="Clean">Whether it was clean.</param>
/// <param name="FaultyNotes">How many of its notes were faulty.</param>
public sealed record ColdTake(DateOnly Day, bool Clean, int FaultyNotes);
