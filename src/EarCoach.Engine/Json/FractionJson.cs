using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using EarCoach.Core.Passages;

namespace EarCoach.Engine.Json;

/// <summary>A fraction as text, "3/4" or "2": exact.</summary>
internal sealed class FractionJson : JsonConverter<Fraction>
{
    public override Fraction Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        string text = reader.GetString() ?? string.Empty;
        string[] parts = text.Split('/');
        return parts.Length <= 2
            && long.TryParse(parts[0], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long numerator)
            && long.TryParse(parts.Length == 2 ? parts[1] : "1", NumberStyles.None, CultureInfo.InvariantCulture, out long denominator)
            && denominator > 0
            ? new Fraction(numerator, denominator)
            : throw new JsonException($"'{text}' is no fraction; write it like \"3/4\" or \"2\".");
    }

    public override void Write(Utf8JsonWriter writer, Fraction value, JsonSerializerOptions options) => writer.WriteStringValue(value.ToString());
}
