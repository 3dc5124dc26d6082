namespace EarCoach.Core.Progress;

/// <summary>What was practised on a day.</summary>
/// <param name="Day">The day of the player's calendar.</param>
/// <param name="PlayedSeconds">Seconds of playing.</param>
/// <param name="Clean">Clean attempts, disputed ones left out.</param>
/// <param name="Missed">Missed attempts, disputed ones left out.</param>
/// <param name="NotCounted">Attempts that were not counted, disputed ones included.</param>
public sealed record PracticeDay(DateOnly Day, double PlayedSeconds, int Clean, int Missed, int NotCounted);
