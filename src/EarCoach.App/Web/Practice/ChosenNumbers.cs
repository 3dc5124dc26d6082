using System.Text.Json;

namespace EarCoach.App.Web.Practice;

/// <summary>The numbers that the page sent, each with the usual value where it was not touched.</summary>
internal sealed class ChosenNumbers(Dictionary<string, JsonElement>? sent)
{
    /// <summary>A whole number.</summary>
    public int Whole(string id, int usual) => Number(id, usual) switch
    {
        null => usual,
        { } value when value == Math.Floor(value) && Math.Abs(value) < 1e9 => (int)value,
        { } value => throw new SetupException($"'{id}' is {value}; give a whole number."),
    };

    /// <summary>A number, or null where it was left empty.</summary>
    public double? Number(string id, double? usual) => Sent(id) switch
    {
        null => usual,
        { ValueKind: JsonValueKind.Null } => null,
        { ValueKind: JsonValueKind.Number } element => element.GetDouble(),
        { } element => throw new SetupException($"'{id}' is {element.GetRawText()}; give a number."),
    };

    /// <summary>The id of a choice; null where it was not touched.</summary>
    public string? Choice(string id) => Sent(id) switch
    {
        null or { ValueKind: JsonValueKind.Null } => null,
        { ValueKind: JsonValueKind.String } element => element.GetString()!,
        { } element => throw new SetupException($"'{id}' is {element.GetRawText()}; give one of the words offered."),
    };

    private JsonElement? Sent(string id) => sent is not null && sent.TryGetValue(id, out JsonElement element) ? element : null;
}
