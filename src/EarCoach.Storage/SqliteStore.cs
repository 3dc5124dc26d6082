using EarCoach.Engine.Ports;

namespace EarCoach.Storage;

/// <summary>The player's practice in one SQLite file: passages, sessions, attempts with their sound, settings.</summary>
/// <remarks>Made at the first start. Another program that has the file open at the same time (a terminal beside the page) is waited for.</remarks>
public sealed class SqliteStore : IDisposable
{
    private readonly StoreDatabase _database;

    private SqliteStore(string path)
    {
        Path = path;
        _database = StoreDatabase.Open(path);
        Attempts = new SqliteAttemptStore(_database);
        Passages = new SqlitePassageLibrary(_database);
        Record = new SqlitePracticeRecord(_database);
        Settings = new SqliteSettingsStore(_database);
        Clips = new SqliteClipArchive(_database);
    }

    /// <summary>The database file.</summary>
    public string Path { get; }

    /// <summary>Sessions and attempts.</summary>
    public IAttemptStore Attempts { get; }

    /// <summary>The library.</summary>
    public IPassageLibrary Passages { get; }

    /// <summary>Reads for progress.</summary>
    public IPracticeRecord Record { get; }

    /// <summary>Settings.</summary>
    public ISettingsStore Settings { get; }

    /// <summary>The sound of all attempts as a whole.</summary>
    public IClipArchive Clips { get; }

    /// <summary>Opens the store in a folder (see <see cref="DataFolder"/>), making both where they are missing.</summary>
    /// <exception cref="StoreException">The folder or file can't be made, read or written, or is of a newer program.</exception>
    public static SqliteStore Open(string folder) => new(System.IO.Path.Combine(folder, "earcoach.db"));

    /// <summary>Closes the file.</summary>
    public void Dispose() => _database.Dispose();
}
