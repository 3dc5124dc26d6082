using EarCoach.Core.Passages;

namespace EarCoach.Core.Judging;

/// <summary>What the player was asked to play, and how strictly it is judged.</summary>
/// <param name="Passage">The notes of the task (a whole passage, an excerpt, a chain length, a rhythm variant).</param>
/// <param name="QuartersPerMinute">The asked tempo; null: the passage's own.</param>
/// <param name="Tolerances">How strict.</param>
/// <param name="A4Hz">The player's A4 in hertz. Source of the default: ISO 16:1975.</param>
public sealed record JudgingTask(Passage Passage, double? QuartersPerMinute, Tolerances Tolerances, double A4Hz = 440.0);
