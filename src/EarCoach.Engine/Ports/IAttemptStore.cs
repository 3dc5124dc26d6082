namespace EarCoach.Engine.Ports;

/// <summary>Keeps practice sessions: what was chosen, and everything that happened, in order.</summary>
/// <remarks>Whatever a member has returned from is on the disk: the process, or the machine, may be killed the moment after.
/// Any thread; calls are taken one at a time. A failure of the disk throws <see cref="StoreException"/>.</remarks>
public interface IAttemptStore
{
    /// <summary>A session begins.</summary>
    void Begin(SessionStart start);

    /// <summary>Something happened that is no attempt: a pause, a dispute, a skip, changed numbers.</summary>
    void Append(Guid sessionId, LoggedInput entry);

    /// <summary>An attempt was judged: its verdict and its sound are kept together or not at all.</summary>
    void Append(Guid sessionId, LoggedInput entry, JudgedAttempt attempt);

    /// <summary>The session is over; it is not offered again.</summary>
    void Close(Guid sessionId, DateTimeOffset at);

    /// <summary>A session with its log; null when there is none of that name.</summary>
    SessionRecord? Find(Guid sessionId);

    /// <summary>The session begun last that is not over; null when there is none.</summary>
    SessionRecord? NewestUnfinished();

    /// <summary>The attempts of a session, oldest first.</summary>
    IReadOnlyList<JudgedAttempt> AttemptsOf(Guid sessionId);

    /// <summary>The sound of an attempt as a 16-bit WAV file; null when there is none.</summary>
    /// <param name="sessionId">The session.</param>
    /// <param name="number">The number of its entry in the log.</param>
    byte[]? ClipOf(Guid sessionId, int number);

    /// <summary>Seconds of playing on a day of the player's calendar.</summary>
    double PlayedSecondsOn(DateOnly day);

    /// <summary>Whether any attempt at a passage was heard on a day of the player's calendar, by whatever drill.</summary>
    bool WasPlayedOn(Guid passageId, DateOnly day);
}
