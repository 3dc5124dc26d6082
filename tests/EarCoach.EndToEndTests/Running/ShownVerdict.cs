using System.Globalization;

namespace EarCoach.EndToEndTests.Running;

/// <summary>A verdict as the page showed it.</summary>
internal sealed record ShownVerdict
{
    /// <summary>Its number in the session's log.</summary>
    public required int Number { get; init; }

    /// <summary>"clean", "missed" or "not-counted".</summary>
    public required string Verdict { get; init; }

    /// <summary>The lines that say what was wrong.</summary>
    public required string[] Lines { get; init; }

    /// <summary>The count with it: clean takes running.</summary>
    public required int Count { get; init; }

    /// <summary>Stage or set under way, from 0.</summary>
    public required int Stage { get; init; }

    /// <summary>Finished sets.</summary>
    public required int Seals { get; init; }

    /// <summary>When it was shown, in milliseconds of the wall clock.</summary>
    public required double AtMs { get; init; }

    /// <summary>The second of the session's sound that was captured last before it was shown.</summary>
    public double? CapturedSeconds { get; init; }

    /// <summary>When that was captured.</summary>
    public double? CapturedAtMs { get; init; }

    /// <summary>Verdicts and what was wrong, for the message of a test that fails.</summary>
    public static string InWords(IEnumerable<ShownVerdict> shown) =>
        string.Join("; ", shown.Select(verdict => string.Create(CultureInfo.InvariantCulture, $"{verdict.Number} {verdict.Verdict} [{string.Join(" | ", verdict.Lines)}]")));
}
