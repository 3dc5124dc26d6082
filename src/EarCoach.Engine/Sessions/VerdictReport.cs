using EarCoach.Core.Drills;
using EarCoach.Core.Judging;

namespace EarCoach.Engine.Sessions;

/// <summary>A verdict with everything a page or a terminal says about it.</summary>
/// <param name="Number">The number of its entry in the session's log: its name within the session.</param>
/// <param name="At">When it was decided.</param>
/// <param name="Task">The task of the drill.</param>
/// <param name="Result">Note by note.</param>
/// <param name="PassageNotes">For each note of the task, which note of the passage it is, from 0.</param>
/// <param name="Disputed">Whether the player has disputed it: then it is not counted.</param>
/// <param name="Headline">One short sentence, for example "Missed: 2 notes".</param>
/// <param name="Lines">What was wrong, a sentence a fault, in order of the notes; empty when nothing was.</param>
public sealed record VerdictReport(
    int Number,
    DateTimeOffset At,
    DrillTask Task,
    AttemptResult Result,
    IReadOnlyList<int> PassageNotes,
    bool Disputed,
    string Headline,
    IReadOnlyList<string> Lines);
