using EarCoach.Engine.Ports;
using Microsoft.Data.Sqlite;

namespace EarCoach.Storage;

/// <inheritdoc cref="IPassageLibrary"/>
internal sealed class SqlitePassageLibrary(StoreDatabase database) : IPassageLibrary
{
    public IReadOnlyList<LibraryPassage> All() => database.Read(connection => connection
        .Command("SELECT body, format FROM passages WHERE deleted_at IS NULL ORDER BY title COLLATE NOCASE, id")
        .Rows(Passage));

    public LibraryPassage? Find(Guid id) => database.Read(connection => connection
        .Command("SELECT body, format FROM passages WHERE id = $id AND deleted_at IS NULL", ("$id", StoredText.Of(id)))
        .Rows(Passage)
        .FirstOrDefault());

    public void Save(LibraryPassage passage)
    {
        ArgumentNullException.ThrowIfNull(passage);
        database.Write((connection, transaction) => connection.Command(
            """
            INSERT INTO passages (id, title, format, body) VALUES ($id, $title, $format, $body)
            ON CONFLICT (id) DO UPDATE SET title = excluded.title, format = excluded.format, body = excluded.body, deleted_at = NULL
            """,
            ("$id", StoredText.Of(passage.Id)),
            ("$title", passage.Passage.Title),
            ("$format", StoredText.Format),
            ("$body", StoredText.Json(passage))).Within(transaction).Run());
    }

    public bool Delete(Guid id) => Changed("UPDATE passages SET deleted_at = strftime('%Y-%m-%dT%H:%M:%fZ', 'now') WHERE id = $id AND deleted_at IS NULL", id);

    public bool Restore(Guid id) => Changed("UPDATE passages SET deleted_at = NULL WHERE id = $id AND deleted_at IS NOT NULL", id);

    private static LibraryPassage Passage(SqliteDataReader row) =>
        StoredText.FromJson<LibraryPassage>(row.GetString(0), "A passage", row.GetInt64(1));

    private bool Changed(string sql, Guid id)
    {
        int changed = 0;
        database.Write((connection, transaction) =>
        {
            using SqliteCommand command = connection.Command(sql, ("$id", StoredText.Of(id)));
            changed = command.Within(transaction).ExecuteNonQuery();
        });
        return changed > 0;
    }
}
