using System.Globalization;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.Tests;

/// <summary>Everything a passage holds as lines of text, so that two passages compare by value and differences are readable.</summary>
internal static class PassageText
{
    public static string Of(Passage passage) => string.Join('\n', Lines(passage));

    private static IEnumerable<string> Lines(Passage passage)
    {
        yield return string.Create(
            CultureInfo.InvariantCulture,
            $"{passage.Title}|{passage.InstrumentId}|pickup {passage.Pickup}|bar {passage.FirstBarNumber}|key {passage.KeyFifths}");
        foreach (TempoMark mark in passage.Tempi)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"tempo {mark.At}: {mark.QuartersPerMinute:R}");
        }

        foreach (MeterMark mark in passage.Meters)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"metre {mark.At}: {mark.Beats}/{mark.BeatType}");
        }

        foreach (PassageNote note in passage.Notes)
        {
            yield return note.ToString();
        }
    }
}
