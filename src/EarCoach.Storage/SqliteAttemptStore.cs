using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Engine.Ports;
using Microsoft.Data.Sqlite;

namespace EarCoach.Storage;

/// <inheritdoc cref="IAttemptStore"/>
internal sealed class SqliteAttemptStore(StoreDatabase database) : IAttemptStore
{
    public void Begin(SessionStart start)
    {
        ArgumentNullException.ThrowIfNull(start);
        database.Write((connection, transaction) => connection.Command(
            """
            INSERT INTO sessions (id, ordinal, started_at, kind, format, body)
            VALUES ($id, (SELECT coalesce(max(ordinal), 0) + 1 FROM sessions), $at, $kind, $format, $body)
            """,
            ("$id", StoredText.Of(start.SessionId)),
            ("$at", StoredText.Of(start.StartedAt)),
            ("$kind", DrillKindNames.Of(start.Plan.Kind)),
            ("$format", StoredText.Format),
            ("$body", StoredText.Json(start))).Within(transaction).Run());
    }

    public void Append(Guid sessionId, LoggedInput entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        database.Write((connection, transaction) =>
        {
            AppendEntry(connection, transaction, sessionId, entry);
            if (entry.Input is DrillInput.Disputed)
            {
                connection.Command(
                    """
                    UPDATE attempts SET disputed = 1
                    WHERE session_id = $id AND number = (SELECT max(number) FROM attempts WHERE session_id = $id)
                    """,
                    ("$id", StoredText.Of(sessionId))).Within(transaction).Run();
            }
        });
    }

    public void Append(Guid sessionId, LoggedInput entry, JudgedAttempt attempt)
    {
        ArgumentNullException.ThrowIfNull(entry);
        ArgumentNullException.ThrowIfNull(attempt);
        database.Write((connection, transaction) =>
        {
            AppendEntry(connection, transaction, sessionId, entry);
            AppendAttempt(connection, transaction, sessionId, attempt);
        });
    }

    public void Close(Guid sessionId, DateTimeOffset at) => database.Write((connection, transaction) => connection.Command(
        "UPDATE sessions SET ended_at = $at WHERE id = $id AND ended_at IS NULL", ("$id", StoredText.Of(sessionId)), ("$at", StoredText.Of(at)))
        .Within(transaction).Run());

    public SessionRecord? Find(Guid sessionId) => database.Read(connection =>
    {
        (SessionStart Start, DateTimeOffset? EndedAt)[] found = [.. connection
            .Command("SELECT body, ended_at, format FROM sessions WHERE id = $id", ("$id", StoredText.Of(sessionId)))
            .Rows(row => (
                StoredText.FromJson<SessionStart>(row.GetString(0), "A session", row.GetInt64(2)),
                row.IsDBNull(1) ? (DateTimeOffset?)null : StoredText.Moment(row.GetString(1))))];
        if (found.Length == 0)
        {
            return null;
        }

        List<LoggedInput> log = connection
            .Command("SELECT number, at, input FROM log WHERE session_id = $id ORDER BY number", ("$id", StoredText.Of(sessionId)))
            .Rows(row => new LoggedInput(
                row.GetInt32(0), StoredText.Moment(row.GetString(1)), StoredText.FromJson<DrillInput>(row.GetString(2), "An entry of a session's log")));
        return new SessionRecord(found[0].Start, found[0].EndedAt, log);
    });

    public SessionRecord? NewestUnfinished()
    {
        string? id = database.Read(connection =>
            connection.Command("SELECT id FROM sessions WHERE ended_at IS NULL ORDER BY ordinal DESC LIMIT 1").Value() as string);
        return id is null ? null : Find(Guid.Parse(id));
    }

    public IReadOnlyList<JudgedAttempt> AttemptsOf(Guid sessionId) => database.Read(connection => connection
        .Command("SELECT body, disputed FROM attempts WHERE session_id = $id ORDER BY number", ("$id", StoredText.Of(sessionId)))
        .Rows(row => StoredText.FromJson<JudgedAttempt>(row.GetString(0), "An attempt") with { Disputed = row.GetInt64(1) != 0 }));

    public byte[]? ClipOf(Guid sessionId, int number) => database.Read(connection => connection
        .Command("SELECT wav FROM clips WHERE session_id = $id AND number = $number", ("$id", StoredText.Of(sessionId)), ("$number", number))
        .Value() as byte[]);

    public double PlayedSecondsOn(DateOnly day) => database.Read(connection => connection
        .Command("SELECT coalesce(sum(seconds), 0.0) FROM attempts WHERE day = $day", ("$day", StoredText.Of(day)))
        .Value() as double? ?? 0);

    public bool WasPlayedOn(Guid passageId, DateOnly day) => database.Read(connection => connection
        .Command(
            "SELECT 1 FROM attempts WHERE day = $day AND passage_id = $id AND NOT (kind = $cold AND verdict = $void) LIMIT 1",
            ("$day", StoredText.Of(day)),
            ("$id", StoredText.Of(passageId)),
            ("$cold", DrillKindNames.Of(DrillKind.ColdTake)),
            ("$void", FaultNames.Of(Verdict.NotCounted)))
        .Value() is not null);

    private static void AppendEntry(SqliteConnection connection, SqliteTransaction transaction, Guid sessionId, LoggedInput entry) => connection.Command(
        "INSERT INTO log (session_id, number, at, input) VALUES ($id, $number, $at, $input)",
        ("$id", StoredText.Of(sessionId)),
        ("$number", entry.Number),
        ("$at", StoredText.Of(entry.At)),
        ("$input", StoredText.Json(entry.Input))).Within(transaction).Run();

    private static void AppendAttempt(SqliteConnection connection, SqliteTransaction transaction, Guid sessionId, JudgedAttempt attempt)
    {
        string id = StoredText.Of(sessionId);
        using SqliteCommand read = connection.Command("SELECT body FROM sessions WHERE id = $id", ("$id", id)).Within(transaction);
        SessionStart start = StoredText.FromJson<SessionStart>(read.ExecuteScalar() as string ?? "null", $"Session {id}");
        SessionPassage passage = start.Passages[attempt.Task.PassageIndex];
        bool isWhole = attempt.Task.VariantCode is null && attempt.Task.NoteCount == passage.Passage.Notes.Length;
        long ordinal = (long)connection.Command(
            """
            INSERT INTO attempts (session_id, number, passage_id, day, kind, verdict, is_whole, seconds, body)
            VALUES ($id, $number, $passage, $day, $kind, $verdict, $whole, $seconds, $body)
            RETURNING ordinal
            """,
            ("$id", id),
            ("$number", attempt.Number),
            ("$passage", passage.PassageId is { } passageId ? StoredText.Of(passageId) : null),
            ("$day", StoredText.Of(DateOnly.FromDateTime(attempt.At.DateTime))),
            ("$kind", DrillKindNames.Of(start.Plan.Kind)),
            ("$verdict", FaultNames.Of(attempt.Result.Verdict)),
            ("$whole", isWhole ? 1 : 0),
            ("$seconds", attempt.Result.EndSeconds - attempt.Result.StartSeconds),
            ("$body", StoredText.Json(attempt with { Clip = null }))).Within(transaction).Value()!;
        for (int i = 0; i < attempt.Result.Notes.Length; i++)
        {
            connection.Command(
                "INSERT INTO attempt_notes (attempt, note, faults) VALUES ($attempt, $note, $faults)",
                ("$attempt", ordinal),
                ("$note", attempt.PassageNotes[i]),
                ("$faults", string.Join(' ', attempt.Result.Notes[i].Faults.Select(FaultNames.Of)))).Within(transaction).Run();
        }

        if (attempt.Clip is { } clip)
        {
            connection.Command(
                "INSERT INTO clips (session_id, number, wav) VALUES ($id, $number, $wav)",
                ("$id", id),
                ("$number", attempt.Number),
                ("$wav", WavBytes.Of(clip))).Within(transaction).Run();
        }
    }
}
