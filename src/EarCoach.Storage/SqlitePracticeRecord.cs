using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Progress;
using EarCoach.Engine.Ports;

namespace EarCoach.Storage;

/// <inheritdoc cref="IPracticeRecord"/>
internal sealed class SqlitePracticeRecord(StoreDatabase database) : IPracticeRecord
{
    public IReadOnlyList<ColdTake> ColdTakes(Guid passageId) => database.Read(connection => connection
        .Command(
            """
            SELECT day, verdict, (SELECT count(*) FROM attempt_notes WHERE attempt = ordinal AND faults <> '')
            FROM attempts
            WHERE passage_id = $id AND kind = $cold AND disputed = 0 AND verdict <> $void
            ORDER BY ordinal
            """,
            ("$id", StoredText.Of(passageId)),
            ("$cold", DrillKindNames.Of(DrillKind.ColdTake)),
            ("$void", FaultNames.Of(Verdict.NotCounted)))
        .Rows(row => new ColdTake(StoredText.Day(row.GetString(0)), row.GetString(1) == FaultNames.Of(Verdict.Clean), row.GetInt32(2))));

    public IReadOnlyList<NoteRecord> NoteRecords(Guid passageId, int newestAttempts = 100) => database.Read(connection => connection
        .Command(
            """
            SELECT note, count(*), sum(faults <> '')
            FROM attempt_notes
            WHERE attempt IN (
                SELECT ordinal FROM attempts
                WHERE passage_id = $id AND disputed = 0 AND verdict <> $void
                ORDER BY ordinal DESC LIMIT $newest)
            GROUP BY note
            ORDER BY note
            """,
            ("$id", StoredText.Of(passageId)),
            ("$void", FaultNames.Of(Verdict.NotCounted)),
            ("$newest", newestAttempts))
        .Rows(row => new NoteRecord(row.GetInt32(0), row.GetInt32(1), row.GetInt32(2))));

    public IReadOnlyList<bool> NewestWholeAttempts(Guid passageId, int atMost = 50)
    {
        List<bool> newestFirst = database.Read(connection => connection
            .Command(
                """
                SELECT verdict FROM attempts
                WHERE passage_id = $id AND is_whole = 1 AND disputed = 0 AND verdict <> $void
                ORDER BY ordinal DESC LIMIT $most
                """,
                ("$id", StoredText.Of(passageId)),
                ("$void", FaultNames.Of(Verdict.NotCounted)),
                ("$most", atMost))
            .Rows(row => row.GetString(0) == FaultNames.Of(Verdict.Clean)));
        newestFirst.Reverse();
        return newestFirst;
    }

    public IReadOnlyList<PracticeDay> Days(DateOnly first, DateOnly last) => database.Read(connection => connection
        .Command(
            """
            SELECT day, sum(seconds), sum(disputed = 0 AND verdict = $clean), sum(disputed = 0 AND verdict = $missed), sum(disputed = 1 OR verdict = $void)
            FROM attempts
            WHERE day BETWEEN $first AND $last
            GROUP BY day
            ORDER BY day
            """,
            ("$first", StoredText.Of(first)),
            ("$last", StoredText.Of(last)),
            ("$clean", FaultNames.Of(Verdict.Clean)),
            ("$missed", FaultNames.Of(Verdict.Missed)),
            ("$void", FaultNames.Of(Verdict.NotCounted)))
        .Rows(row => new PracticeDay(StoredText.Day(row.GetString(0)), row.GetDouble(1), row.GetInt32(2), row.GetInt32(3), row.GetInt32(4))));

    public IReadOnlyList<SessionSummary> NewestSessions(int atMost = 50) => database.Read(connection => connection
        .Command(
            """
            SELECT sessions.body, sessions.ended_at, sessions.format,
                coalesce(sum(disputed = 0 AND verdict = $clean), 0), coalesce(sum(disputed = 0 AND verdict = $missed), 0),
                coalesce(sum(disputed = 0 AND verdict = $void), 0), coalesce(sum(disputed), 0), coalesce(sum(seconds), 0.0)
            FROM sessions LEFT JOIN attempts ON attempts.session_id = sessions.id
            GROUP BY sessions.id
            ORDER BY sessions.ordinal DESC
            LIMIT $most
            """,
            ("$clean", FaultNames.Of(Verdict.Clean)),
            ("$missed", FaultNames.Of(Verdict.Missed)),
            ("$void", FaultNames.Of(Verdict.NotCounted)),
            ("$most", atMost))
        .Rows(row =>
        {
            SessionStart start = StoredText.FromJson<SessionStart>(row.GetString(0), "A session", row.GetInt64(2));
            return new SessionSummary(
                start.SessionId,
                start.StartedAt,
                row.IsDBNull(1) ? null : StoredText.Moment(row.GetString(1)),
                start.Plan.Kind,
                [.. start.Passages.Select(passage => passage.Passage.Title)],
                new AttemptTally(row.GetInt32(3), row.GetInt32(4), row.GetInt32(5), row.GetInt32(6)),
                row.GetDouble(7));
        }));
}
