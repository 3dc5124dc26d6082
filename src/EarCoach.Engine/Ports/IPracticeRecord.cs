using EarCoach.Core.Progress;

namespace EarCoach.Engine.Ports;

/// <summary>What the store can tell about progress. Any thread.</summary>
public interface IPracticeRecord
{
    /// <summary>The cold takes of a passage, oldest first. Void ones (disputed) are not among them.</summary>
    IReadOnlyList<ColdTake> ColdTakes(Guid passageId);

    /// <summary>How often each note of a passage was played and was faulty in counted attempts; notes never played are left out.</summary>
    /// <param name="passageId">The passage.</param>
    /// <param name="newestAttempts">How many of the newest attempts are looked at.</param>
    IReadOnlyList<NoteRecord> NoteRecords(Guid passageId, int newestAttempts = 100);

    /// <summary>The newest counted attempts at a whole passage as written, oldest first: true is clean.</summary>
    IReadOnlyList<bool> NewestWholeAttempts(Guid passageId, int atMost = 50);

    /// <summary>The days on which something was played, oldest first; days without playing are left out.</summary>
    /// <param name="first">First day.</param>
    /// <param name="last">Last day, included.</param>
    IReadOnlyList<PracticeDay> Days(DateOnly first, DateOnly last);

    /// <summary>The newest sessions, newest first.</summary>
    IReadOnlyList<SessionSummary> NewestSessions(int atMost = 50);
}
