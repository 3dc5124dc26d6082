using EarCoach.Core.Drills;
using EarCoach.Engine.Ports;

namespace EarCoach.Storage;

/// <inheritdoc cref="IClipArchive"/>
internal sealed class SqliteClipArchive(StoreDatabase database) : IClipArchive
{
    public long TotalBytes() => database.Read(connection =>
        connection.Command("SELECT coalesce(sum(length(wav)), 0) FROM clips").Value() as long? ?? 0);

    public int ForgetOldest(long keepBytes)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(keepBytes);
        long excess = TotalBytes() - keepBytes;
        if (excess <= 0)
        {
            return 0;
        }

        List<(string Session, long Number, long Bytes)> oldest = database.Read(connection => connection
            .Command(
                """
                SELECT clips.session_id, clips.number, length(wav)
                FROM clips JOIN attempts ON attempts.session_id = clips.session_id AND attempts.number = clips.number
                WHERE kind <> $cold AND disputed = 0
                ORDER BY attempts.ordinal
                """,
                ("$cold", DrillKindNames.Of(DrillKind.ColdTake)))
            .Rows(row => (row.GetString(0), row.GetInt64(1), row.GetInt64(2))));
        int forgotten = 0;
        database.Write((connection, transaction) =>
        {
            while (excess > 0 && forgotten < oldest.Count)
            {
                (string session, long number, long bytes) = oldest[forgotten];
                connection.Command("DELETE FROM clips WHERE session_id = $id AND number = $number", ("$id", session), ("$number", number))
                    .Within(transaction).Run();
                excess -= bytes;
                forgotten++;
            }
        });
        return forgotten;
    }
}
