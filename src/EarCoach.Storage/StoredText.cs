using System.Globalization;
using System.Text.Json;
using EarCoach.Engine.Json;
using EarCoach.Engine.Ports;

namespace EarCoach.Storage;

/// <summary>How values stand in text columns.</summary>
internal static class StoredText
{
    /// <summary>The version of the JSON bodies; a later version must still read earlier ones.</summary>
    public const int Format = 1;

    public static string Of(Guid id) => id.ToString("D");

    public static string Of(DateTimeOffset at) => at.ToString("O", CultureInfo.InvariantCulture);

    public static string Of(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    public static DateTimeOffset Moment(string text) => DateTimeOffset.ParseExact(text, "O", CultureInfo.InvariantCulture);

    public static DateOnly Day(string text) => DateOnly.ParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture);

    public static string Json<T>(T value) => JsonSerializer.Serialize(value, EngineJson.Options);

    public static T FromJson<T>(string text, string what, long format = Format)
    {
        if (format > Format)
        {
            throw new StoreException($"{what} was stored in form {format}; this version of the program reads forms up to {Format}. Use the newer program that stored it.");
        }

        try
        {
            return JsonSerializer.Deserialize<T>(text, EngineJson.Options) ?? throw new JsonException("It is empty.");
        }
        catch (JsonException cause)
        {
            throw new StoreException($"{what} in the practice store can't be understood: {cause.Message} The file may be damaged; put back a copy of it.", cause);
        }
    }
}
