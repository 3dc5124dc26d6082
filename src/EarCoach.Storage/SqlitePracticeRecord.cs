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
}
