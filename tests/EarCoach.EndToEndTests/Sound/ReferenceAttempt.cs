using System.Text.Json;

namespace EarCoach.EndToEndTests.Sound;

/// <summary>The truth about an attempt of a reference recording. Seconds from the start of its file.</summary>
/// <param name="StartSeconds">The first note begins.</param>
/// <param name="EndSeconds">The last note ends.</param>
/// <param name="Verdict">"clean" or "missed".</param>
/// <param name="Onsets">Where each note begins; null for one that was left out.</param>
/// <param name="Offsets">Where each note ends.</param>
internal sealed record ReferenceAttempt(double StartSeconds, double EndSeconds, string Verdict, IReadOnlyList<double?> Onsets, IReadOnlyList<double?> Offsets)
{
    public static ReferenceAttempt Of(JsonElement attempt)
    {
        List<JsonElement> notes = [.. attempt.GetProperty("notes").EnumerateArray()];
        return new ReferenceAttempt(
            attempt.GetProperty("start").GetDouble(),
            attempt.GetProperty("end").GetDouble(),
            attempt.GetProperty("verdict").GetString()!,
            [.. notes.Select(note => Seconds(note, "onset"))],
            [.. notes.Select(note => Seconds(note, "offset"))]);
    }

    private static double? Seconds(JsonElement note, string name) =>
        note.TryGetProperty(name, out JsonElement value) && value.ValueKind == JsonValueKind.Number ? value.GetDouble() : null;
}
