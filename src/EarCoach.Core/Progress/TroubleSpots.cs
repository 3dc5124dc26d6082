using System.Collections.Immutable;

namespace EarCoach.Core.Progress;

/// <summary>Which notes of a passage fail, and how far the passage as a whole can be trusted.</summary>
public static class TroubleSpots
{
    /// <summary>The notes most often faulty, worst first. A note that was never faulty is none.</summary>
    /// <param name="records">One entry a note.</param>
    /// <param name="atMost">How many.</param>
    /// <remarks>Ranked by what the share of faults is at least with 80 % probability (uniform prior), so that one unlucky attempt does not
    /// outrank a note that fails every third time. The 80 %: our choice.</remarks>
    public static ImmutableArray<int> Worst(IEnumerable<NoteRecord> records, int atMost = 3)
    {
        ArgumentNullException.ThrowIfNull(records);
        ArgumentOutOfRangeException.ThrowIfLessThan(atMost, 1);
        return [.. records
            .Where(record => record.Faulty > 0)
            .OrderByDescending(record => new Reliability(record.Faulty, record.Played - record.Faulty).Quantile(0.2))
            .ThenBy(record => record.NoteIndex)
            .Take(atMost)
            .Select(record => record.NoteIndex)];
    }

    /// <summary>The chance that a play-through is clean, from its notes: the product of theirs.</summary>
    /// <remarks>Holds where notes fail one by one, each on its own account; nerves make them fail together, so it is a floor.</remarks>
    public static double CleanPlayThrough(IEnumerable<NoteRecord> records)
    {
        ArgumentNullException.ThrowIfNull(records);
        return records.Aggregate(1.0, (product, record) => product * new Reliability(record.Played - record.Faulty, record.Faulty).Mean);
    }

    /// <summary>How reliable each note must be for the whole to be so.</summary>
    /// <param name="wholeChance">The chance wished for the whole, more than 0, at most 1.</param>
    /// <param name="notes">How many notes, at least 1.</param>
    public static double NeededPerNote(double wholeChance, int notes)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(wholeChance);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(wholeChance, 1.0);
        ArgumentOutOfRangeException.ThrowIfLessThan(notes, 1);
        return Math.Pow(wholeChance, 1.0 / notes);
    }
}
