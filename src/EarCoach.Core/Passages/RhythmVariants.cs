using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>The rhythm and grouping variants that teachers of wind, string and keyboard players hand out. Common practice.</summary>
public static class RhythmVariants
{
    private const int ShortestBurst = 2;
    private const int LongestBurst = 8;

    /// <summary>Every variant, in the order they are usually practised.</summary>
    public static ImmutableArray<RhythmVariant> All { get; } =
    [
        Pattern("2a", "long-short", (3, 2), (1, 2)),
        Pattern("2b", "short-long", (1, 2), (3, 2)),
        Pattern("2c", "long-short, swung", (4, 3), (2, 3)),
        Pattern("2d", "short-long, swung", (2, 3), (4, 3)),
        Pattern("3a", "long-short-short", (3, 2), (3, 4), (3, 4)),
        Pattern("3b", "short-long-short", (3, 4), (3, 2), (3, 4)),
        Pattern("3c", "short-short-long", (3, 4), (3, 4), (3, 2)),
        Pattern("4a", "long-short-short-short", (2, 1), (2, 3), (2, 3), (2, 3)),
        Pattern("4b", "short-long-short-short", (2, 3), (2, 1), (2, 3), (2, 3)),
        Pattern("4c", "short-short-long-short", (2, 3), (2, 3), (2, 1), (2, 3)),
        Pattern("4d", "short-short-short-long", (2, 3), (2, 3), (2, 3), (2, 1)),
        Pattern("4e", "long-long-short-short", (3, 2), (3, 2), (1, 2), (1, 2)),
        Pattern("4f", "short-short-long-long", (1, 2), (1, 2), (3, 2), (3, 2)),
        .. Enumerable.Range(0, 3).Select(shift => Accents($"T{shift}", shift == 0 ? "in threes" : $"in threes, shifted by {shift}", 3, shift)),
        .. from every in new[] { 2, 4, 5 }
           from phase in Enumerable.Range(0, every)
           select Accents($"A{every},{phase}", $"accent on every {every}{(every == 2 ? "nd" : "th")} note, from note {phase + 1}", every, phase),
        .. Enumerable.Range(ShortestBurst, LongestBurst - ShortestBurst + 1).Select(Burst),
        .. Enumerable.Range(ShortestBurst, LongestBurst - ShortestBurst + 1).Select(Stop),
        Repeat(2),
        Repeat(4),
    ];

    /// <summary>The variant with this code, or null.</summary>
    public static RhythmVariant? ByCode(string code) => All.FirstOrDefault(variant => variant.Code == code);

    private static RhythmVariant Pattern(string code, string name, params (int Numerator, int Denominator)[] times)
    {
        ImmutableArray<Fraction> equalTotal = [.. times.Select(time => new Fraction(time.Numerator, time.Denominator))];
        Fraction shortest = equalTotal.Min();
        return new RhythmVariant { Code = code, Name = name, EqualTotal = equalTotal, ShortsAtTarget = [.. equalTotal.Select(time => time / shortest)] };
    }

    private static RhythmVariant Accents(string code, string name, int every, int phase) =>
        new() { Code = code, Name = name, EqualTotal = [1], ShortsAtTarget = [1], AccentEvery = every, AccentPhase = phase };

    /// <summary>Quick notes and a hold. With short notes at target the hold fills the group to twice its even time.</summary>
    private static RhythmVariant Burst(int size) => new()
    {
        Code = $"G{size}",
        Name = $"bursts of {size}, the last held",
        EqualTotal = [.. Enumerable.Repeat(new Fraction(1, 2), size - 1), new Fraction(size + 1, 2)],
        ShortsAtTarget = [.. Enumerable.Repeat(Fraction.One, size - 1), size + 1],
        HoldsFreely = true,
    };

    /// <summary>As a burst, in time, with silence in place of the hold.</summary>
    private static RhythmVariant Stop(int size) => Burst(size) with { Code = $"STOP{size}", Name = $"stop after every {size} notes", HoldsFreely = false, Stops = true };

    /// <summary>Each note struck several times.</summary>
    private static RhythmVariant Repeat(int strikes) => new()
    {
        Code = $"PREP{strikes}",
        Name = strikes == 2 ? "each note twice" : $"each note {strikes} times",
        EqualTotal = [.. Enumerable.Repeat(new Fraction(1, strikes), strikes)],
        ShortsAtTarget = [.. Enumerable.Repeat(Fraction.One, strikes)],
        Strikes = strikes,
    };
}
