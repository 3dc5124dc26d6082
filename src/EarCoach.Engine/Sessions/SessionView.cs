using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Engine.Ports;

namespace EarCoach.Engine.Sessions;

/// <summary>A session as a page or a terminal shows it: all that is needed to draw the screen anew, after a reload for example.</summary>
/// <param name="SessionId">Its name.</param>
/// <param name="Word">The state in one word.</param>
/// <param name="Passages">What is practised.</param>
/// <param name="Plan">The numbers now in force.</param>
/// <param name="Drill">Task, count, seals, stages.</param>
/// <param name="Task">The notes to be played and how strictly they are judged; null when done.</param>
/// <param name="PassageNotes">For each of those notes, which note of the passage it is, from 0.</param>
/// <param name="TaskSentence">The task in words.</param>
/// <param name="LastVerdict">The newest verdict; null before the first.</param>
/// <param name="CanDispute">Whether a dispute would take it back.</param>
/// <param name="Rest">A rest that is proposed; null when none is.</param>
/// <param name="Hint">A proposal to make it easier, in words; null when there is none.</param>
/// <param name="PlayedSeconds">Seconds played in this session.</param>
public sealed record SessionView(
    Guid SessionId,
    SessionWord Word,
    IReadOnlyList<SessionPassage> Passages,
    DrillPlan Plan,
    DrillView Drill,
    JudgingTask? Task,
    IReadOnlyList<int> PassageNotes,
    string TaskSentence,
    VerdictReport? LastVerdict,
    bool CanDispute,
    RestProposal? Rest,
    string? Hint,
    double PlayedSeconds)
{
    /// <summary>How many attempts are still expected, at the rate of clean ones so far: of a proof to its last seal, else to the end of the stage.
    /// Null before a few were counted, and for drills that do not wait for a run. An order of magnitude, no promise.</summary>
    public double? ExpectedAttemptsLeft { get; init; }
}
