using System.Globalization;
using EarCoach.Engine.Ports;
using Microsoft.Data.Sqlite;

namespace EarCoach.Storage;

/// <summary>The connection to the one database file: opened, migrated, and used by one thread at a time.</summary>
/// <remarks>Write-ahead log with synchronous=FULL: a committed transaction has been handed to the disk (sqlite.org/pragma.html#pragma_synchronous).</remarks>
internal sealed class StoreDatabase : IDisposable
{
    private const int PrimaryKeyTwice = 1555; // sqlite.org/rescode.html: SQLITE_CONSTRAINT_PRIMARYKEY
    private const int UniqueTwice = 2067; // SQLITE_CONSTRAINT_UNIQUE
    private readonly Lock _turn = new();
    private readonly SqliteConnection _connection;
    private readonly string _path;

    private StoreDatabase(SqliteConnection connection, string path)
    {
        _connection = connection;
        _path = path;
    }

    public static StoreDatabase Open(string path)
    {
        SqliteConnection? connection = null;
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            connection = new SqliteConnection(new SqliteConnectionStringBuilder
            {
                DataSource = path,
                Mode = SqliteOpenMode.ReadWriteCreate,
                ForeignKeys = true,
                Pooling = false,
                DefaultTimeout = 10,
            }.ToString());
            connection.Open();
            Run(connection, "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;");
            StoreDatabase database = new(connection, path);
            database.Migrate();
            return database;
        }
        catch (Exception cause) when (cause is SqliteException or IOException or UnauthorizedAccessException or NotSupportedException)
        {
            connection?.Dispose();
            throw new StoreException($"The practice store {path} could not be opened: {cause.Message} Check the folder, or choose another with {DataFolder.Variable}.", cause);
        }
        catch
        {
            connection?.Dispose();
            throw;
        }
    }

    /// <summary>Does all of it in one transaction that is on the disk when this returns, or nothing.</summary>
    public void Write(Action<SqliteConnection, SqliteTransaction> work)
    {
        lock (_turn)
        {
            try
            {
                using SqliteTransaction transaction = _connection.BeginTransaction(deferred: false);
                work(_connection, transaction);
                transaction.Commit();
            }
            catch (SqliteException cause) when (cause.SqliteExtendedErrorCode is PrimaryKeyTwice or UniqueTwice)
            {
                throw new StoreException($"This session goes on in another window or program, which has kept something since. Go on there; nothing was changed here ({_path}).", cause);
            }
            catch (SqliteException cause)
            {
                throw new StoreException($"The practice store {_path} could not be written: {cause.Message} Free some disk space, or close other programs that use it.", cause);
            }
        }
    }

    /// <summary>Reads.</summary>
    public T Read<T>(Func<SqliteConnection, T> work)
    {
        lock (_turn)
        {
            try
            {
                return work(_connection);
            }
            catch (SqliteException cause)
            {
                throw new StoreException($"The practice store {_path} could not be read: {cause.Message} Close other programs that use it; the file may be damaged.", cause);
            }
        }
    }

    public void Dispose()
    {
        lock (_turn)
        {
            _connection.Dispose();
        }
    }

    private static void Run(SqliteConnection connection, string sql, SqliteTransaction? transaction = null)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    private void Migrate()
    {
        // An immediate transaction, so that two programs that start at once do not both migrate.
        using SqliteTransaction transaction = _connection.BeginTransaction(deferred: false);
        using SqliteCommand version = _connection.CreateCommand();
        version.Transaction = transaction;
        version.CommandText = "PRAGMA user_version";
        int present = Convert.ToInt32(version.ExecuteScalar(), CultureInfo.InvariantCulture);
        int newest = Migration.All[^1].Number;
        if (present > newest)
        {
            throw new StoreException(
                $"The practice store {_path} has shape {present}; this version of the program knows shapes up to {newest}. Use the newer program that made it.");
        }

        foreach (Migration step in Migration.All.Where(step => step.Number > present))
        {
            Run(_connection, step.Sql, transaction);
            Run(_connection, string.Create(CultureInfo.InvariantCulture, $"PRAGMA user_version = {step.Number}"), transaction);
        }

        transaction.Commit();
    }
}
