using EarCoach.Core.Drills;
using EarCoach.Core.Judging;

namespace EarCoach.Engine.Ports;

/// <summary>An attempt as it is kept.</summary>
/// <param name="Number">The number of its entry in the session's log.</param>
/// <param name="At">When it was decided.</param>
/// <param name="Task">The task of the drill.</param>
/// <param name="Result">The verdict note by note, with the tolerances it was judged by.</param>
/// <param name="PassageNotes">For each note of the task, which note of the passage it is, from 0.</param>
/// <param name="Disputed">Whether the player has disputed it since.</param>
/// <param name="Clip">Its sound, for keeping; null when read back (see <see cref="IAttemptStore.ClipOf"/>).</param>
public sealed record JudgedAttempt(
    int Number,
    DateTimeOffset At,
    DrillTask Task,
    AttemptResult Result,
    IReadOnlyList<int> PassageNotes,
    bool Disputed,
    AttemptClip? Clip);
