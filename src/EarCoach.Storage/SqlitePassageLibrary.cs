using EarCoach.Engine.Ports;
using Microsoft.Data.Sqlite;

namespace EarCoach.Storage;

/// <inheritdoc cref="IPassageLibrary"/>
internal sealed class SqlitePassageLibrary(StoreDatabase database) : IPassageLibrary
{
    private const int MostChanges = 200; // older ones are forgotten; deleted passages themselves never are
    private const string Edited = "edited";
    private const string Deleted = "deleted";

    private (long Version, IReadOnlyList<LibraryPassage> Passages)? _known; // touched only within the database's turn

    /// <inheritdoc/>
    /// <remarks>Long parts take time to read: the list is kept until this store writes a passage or any other connection writes anything
    /// (sqlite.org/pragma.html#pragma_data_version).</remarks>
    public IReadOnlyList<LibraryPassage> All() => database.Read(connection =>
    {
        long version = (long)connection.Command("PRAGMA data_version").Value()!;
        if (_known is not { } known || known.Version != version)
        {
            _known = known = (version, connection
                .Command("SELECT body, format FROM passages WHERE deleted_at IS NULL ORDER BY title COLLATE NOCASE, id")
                .Rows(Passage));
        }

        return known.Passages;
    });

    public LibraryPassage? Find(Guid id) => database.Read(connection => connection
        .Command("SELECT body, format FROM passages WHERE id = $id AND deleted_at IS NULL", ("$id", StoredText.Of(id)))
        .Rows(Passage)
        .FirstOrDefault());

    public void Save(LibraryPassage passage)
    {
        ArgumentNullException.ThrowIfNull(passage);
        Write((connection, transaction) =>
        {
            Remember(connection, transaction, passage.Id, Edited);
            connection.Command(
                """
                INSERT INTO passages (id, title, format, body) VALUES ($id, $title, $format, $body)
                ON CONFLICT (id) DO UPDATE SET title = excluded.title, format = excluded.format, body = excluded.body, deleted_at = NULL
                """,
                ("$id", StoredText.Of(passage.Id)),
                ("$title", passage.Passage.Title),
                ("$format", StoredText.Format),
                ("$body", StoredText.Json(passage))).Within(transaction).Run();
        });
    }

    public bool Delete(Guid id)
    {
        bool isDeleted = false;
        Write((connection, transaction) =>
        {
            Remember(connection, transaction, id, Deleted);
            isDeleted = Changed(
                connection, transaction, "UPDATE passages SET deleted_at = strftime('%Y-%m-%dT%H:%M:%fZ', 'now') WHERE id = $id AND deleted_at IS NULL", ("$id", StoredText.Of(id)));
        });
        return isDeleted;
    }

    public bool Restore(Guid id)
    {
        bool isRestored = false;
        Write((connection, transaction) => isRestored = Changed(
            connection, transaction, "UPDATE passages SET deleted_at = NULL WHERE id = $id AND deleted_at IS NOT NULL", ("$id", StoredText.Of(id))));
        return isRestored;
    }

    public LibraryChange? NewestChange() => database.Read(connection => connection
        .Command("SELECT number, kind, passage_id, title FROM passage_changes ORDER BY number DESC LIMIT 1")
        .Rows(row => new LibraryChange(
            row.GetInt64(0), row.GetString(1) == Deleted ? LibraryChangeKind.Deleted : LibraryChangeKind.Edited, Guid.Parse(row.GetString(2)), row.GetString(3)))
        .FirstOrDefault());

    public bool Undo(long number)
    {
        bool isUndone = false;
        Write((connection, transaction) =>
        {
            isUndone = Changed(
                connection,
                transaction,
                """
                UPDATE passages SET (title, format, body, deleted_at) = (SELECT title, format, body, NULL FROM passage_changes WHERE number = $number)
                WHERE id = (SELECT passage_id FROM passage_changes WHERE number = $number AND number = (SELECT max(number) FROM passage_changes))
                """,
                ("$number", number));
            if (isUndone)
            {
                connection.Command("DELETE FROM passage_changes WHERE number = $number", ("$number", number)).Within(transaction).Run();
            }
        });
        return isUndone;
    }

    private void Write(Action<SqliteConnection, SqliteTransaction> work) => database.Write((connection, transaction) =>
    {
        _known = null;
        work(connection, transaction);
    });

    /// <summary>Keeps what a passage is now, where there is one, before it is changed in the same transaction.</summary>
    private static void Remember(SqliteConnection connection, SqliteTransaction transaction, Guid id, string kind)
    {
        connection.Command(
            """
            INSERT INTO passage_changes (kind, passage_id, title, format, body)
            SELECT $kind, id, title, format, body FROM passages WHERE id = $id AND deleted_at IS NULL
            """,
            ("$kind", kind),
            ("$id", StoredText.Of(id))).Within(transaction).Run();
        connection.Command(
            "DELETE FROM passage_changes WHERE number <= (SELECT max(number) FROM passage_changes) - $most", ("$most", MostChanges)).Within(transaction).Run();
    }

    private static LibraryPassage Passage(SqliteDataReader row) =>
        StoredText.FromJson<LibraryPassage>(row.GetString(0), "A passage", row.GetInt64(1));

    private static bool Changed(SqliteConnection connection, SqliteTransaction transaction, string sql, (string Name, object? Value) value)
    {
        using SqliteCommand command = connection.Command(sql, value);
        return command.Within(transaction).ExecuteNonQuery() > 0;
    }
}
