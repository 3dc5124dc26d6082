namespace EarCoach.Storage;

/// <summary>One numbered step of the database's shape. A step that was ever released is never changed; a new one is added.</summary>
/// <param name="Number">From 1, without holes; PRAGMA user_version holds the newest applied.</param>
/// <param name="Sql">The statements.</param>
internal sealed record Migration(int Number, string Sql)
{
    /// <summary>All steps, in order.</summary>
    public static IReadOnlyList<Migration> All { get; } =
    [
        new(1, """
            CREATE TABLE passages (
                id TEXT PRIMARY KEY,
                title TEXT NOT NULL,
                format INTEGER NOT NULL,
                body TEXT NOT NULL,
                deleted_at TEXT
            ) STRICT;

            CREATE TABLE sessions (
                id TEXT PRIMARY KEY,
                ordinal INTEGER NOT NULL UNIQUE,
                started_at TEXT NOT NULL,
                ended_at TEXT,
                kind TEXT NOT NULL,
                format INTEGER NOT NULL,
                body TEXT NOT NULL
            ) STRICT;

            CREATE TABLE log (
                session_id TEXT NOT NULL REFERENCES sessions (id),
                number INTEGER NOT NULL,
                at TEXT NOT NULL,
                input TEXT NOT NULL,
                PRIMARY KEY (session_id, number)
            ) STRICT;

            CREATE TABLE attempts (
                ordinal INTEGER PRIMARY KEY,
                session_id TEXT NOT NULL,
                number INTEGER NOT NULL,
                passage_id TEXT,
                day TEXT NOT NULL,
                kind TEXT NOT NULL,
                verdict TEXT NOT NULL,
                disputed INTEGER NOT NULL DEFAULT 0,
                is_whole INTEGER NOT NULL,
                seconds REAL NOT NULL,
                body TEXT NOT NULL,
                UNIQUE (session_id, number),
                FOREIGN KEY (session_id, number) REFERENCES log (session_id, number)
            ) STRICT;

            CREATE INDEX attempts_by_passage ON attempts (passage_id, ordinal);
            CREATE INDEX attempts_by_day ON attempts (day);

            CREATE TABLE attempt_notes (
                attempt INTEGER NOT NULL REFERENCES attempts (ordinal),
                note INTEGER NOT NULL,
                faults TEXT NOT NULL
            ) STRICT;

            CREATE INDEX attempt_notes_by_attempt ON attempt_notes (attempt);

            CREATE TABLE clips (
                session_id TEXT NOT NULL,
                number INTEGER NOT NULL,
                wav BLOB NOT NULL,
                PRIMARY KEY (session_id, number),
                FOREIGN KEY (session_id, number) REFERENCES attempts (session_id, number)
            ) STRICT;

            CREATE TABLE settings (
                name TEXT PRIMARY KEY,
                value TEXT NOT NULL
            ) STRICT;
            """),
        new(2, """
            -- What a passage was before each edit and deletion, so that they can be taken back.
            CREATE TABLE passage_changes (
                number INTEGER PRIMARY KEY AUTOINCREMENT,
                kind TEXT NOT NULL,
                passage_id TEXT NOT NULL REFERENCES passages (id),
                title TEXT NOT NULL,
                format INTEGER NOT NULL,
                body TEXT NOT NULL
            ) STRICT;
            """),
    ];
}
