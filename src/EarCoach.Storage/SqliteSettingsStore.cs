using EarCoach.Engine.Ports;

namespace EarCoach.Storage;

/// <inheritdoc cref="ISettingsStore"/>
internal sealed class SqliteSettingsStore(StoreDatabase database) : ISettingsStore
{
    public string? Read(string name) => database.Read(connection =>
        connection.Command("SELECT value FROM settings WHERE name = $name", ("$name", name)).Value() as string);

    public void Write(string name, string? value) => database.Write((connection, transaction) =>
    {
        string sql = value is null
            ? "DELETE FROM settings WHERE name = $name"
            : "INSERT INTO settings (name, value) VALUES ($name, $value) ON CONFLICT (name) DO UPDATE SET value = excluded.value";
        connection.Command(sql, ("$name", name), ("$value", value)).Within(transaction).Run();
    });
}
