using System.Text.Json;
using System.Text.Json.Serialization;

namespace EarCoach.App.Web.Messages;

/// <summary>How the page and the program write to one another.</summary>
internal static class PageMessages
{
    /// <summary>camelCase names; nulls are left out.</summary>
    public static JsonSerializerOptions Options { get; } = new(JsonSerializerDefaults.Web)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
    };

    /// <summary>A message as UTF-8 JSON.</summary>
    public static byte[] Write(object message) => JsonSerializer.SerializeToUtf8Bytes(message, message.GetType(), Options);
}
