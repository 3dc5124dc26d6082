using EarCoach.Core.Drills;
using EarCoach.Engine.Ports;

namespace EarCoach.Engine.Tests.Sessions;

/// <summary>A store in memory that can be made to fail.</summary>
internal sealed class MemoryStore : IAttemptStore
{
    private readonly List<SessionStart> _sessions = [];
    private readonly List<(Guid Session, LoggedInput Entry)> _log = [];
    private readonly List<(Guid Session, JudgedAttempt Attempt)> _attempts = [];
    private readonly Dictionary<Guid, DateTimeOffset> _ended = [];

    public bool Fails { get; set; }

    public IReadOnlyList<LoggedInput> Log => [.. _log.Select(row => row.Entry)];

    public IReadOnlyList<JudgedAttempt> Attempts => [.. _attempts.Select(row => row.Attempt)];

    public void Begin(SessionStart start)
    {
        Check();
        _sessions.Add(start);
    }

    public void Append(Guid sessionId, LoggedInput entry)
    {
        Check();
        _log.Add((sessionId, entry));
        if (entry.Input is DrillInput.Disputed)
        {
            int last = _attempts.FindLastIndex(row => row.Session == sessionId);
            _attempts[last] = (sessionId, _attempts[last].Attempt with { Disputed = true });
        }
    }

    public void Append(Guid sessionId, LoggedInput entry, JudgedAttempt attempt)
    {
        Check();
        _log.Add((sessionId, entry));
        _attempts.Add((sessionId, attempt));
    }

    public void Close(Guid sessionId, DateTimeOffset at) => _ended.TryAdd(sessionId, at);

    public SessionRecord? Find(Guid sessionId) => _sessions.Find(start => start.SessionId == sessionId) is { } start
        ? new SessionRecord(
            start,
            _ended.TryGetValue(sessionId, out DateTimeOffset at) ? at : null,
            [.. _log.Where(row => row.Session == sessionId).Select(row => row.Entry)])
        : null;

    public SessionRecord? NewestUnfinished() => _sessions.FindLast(start => !_ended.ContainsKey(start.SessionId)) is { } start ? Find(start.SessionId) : null;

    public IReadOnlyList<JudgedAttempt> AttemptsOf(Guid sessionId) => [.. _attempts.Where(row => row.Session == sessionId).Select(row => row.Attempt)];

    public byte[]? ClipOf(Guid sessionId, int number) => null;

    public double PlayedSecondsOn(DateOnly day) => _attempts
        .Where(row => DateOnly.FromDateTime(row.Attempt.At.DateTime) == day)
        .Sum(row => row.Attempt.Result.EndSeconds - row.Attempt.Result.StartSeconds);

    public bool WasPlayedOn(Guid passageId, DateOnly day) => _attempts.Any(row =>
        DateOnly.FromDateTime(row.Attempt.At.DateTime) == day
        && _sessions.Find(start => start.SessionId == row.Session)!.Passages[row.Attempt.Task.PassageIndex].PassageId == passageId);

    private void Check()
    {
        if (Fails)
        {
            throw new StoreException("The disk is full.");
        }
    }
}
