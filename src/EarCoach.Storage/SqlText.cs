using Microsoft.Data.Sqlite;

namespace EarCoach.Storage;

/// <summary>Statements with their values, without ever putting a value into the text.</summary>
internal static class SqlText
{
    public static SqliteCommand Command(this SqliteConnection connection, string sql, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        foreach ((string name, object? value) in values)
        {
            command.Parameters.AddWithValue(name, value ?? DBNull.Value);
        }

        return command;
    }

    public static SqliteCommand Within(this SqliteCommand command, SqliteTransaction transaction)
    {
        command.Transaction = transaction;
        return command;
    }

    public static void Run(this SqliteCommand command)
    {
        using (command)
        {
            command.ExecuteNonQuery();
        }
    }

    public static List<T> Rows<T>(this SqliteCommand command, Func<SqliteDataReader, T> row)
    {
        using (command)
        {
            using SqliteDataReader reader = command.ExecuteReader();
            List<T> rows = [];
            while (reader.Read())
            {
                rows.Add(row(reader));
            }

            return rows;
        }
    }

    public static object? Value(this SqliteCommand command)
    {
        using (command)
        {
            object? value = command.ExecuteScalar();
            return value is DBNull ? null : value;
        }
    }
}
