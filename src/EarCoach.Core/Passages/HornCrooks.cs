using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>The crooks of older horn parts. Common practice.</summary>
public static class HornCrooks
{
    private static readonly string[] _nameOpenings = ["horn in ", "french horn in ", "corno in ", "horn "];

    /// <summary>From the highest to the lowest.</summary>
    public static ImmutableArray<HornCrook> All { get; } =
    [
        new("bb-alto", "Horn in B flat alto", new Transposition(-1, -2)),
        new("a", "Horn in A", new Transposition(-2, -3)),
        new("ab", "Horn in A flat", new Transposition(-2, -4)),
        new("g", "Horn in G", new Transposition(-3, -5)),
        new("f#", "Horn in F sharp", new Transposition(-4, -6)),
        new("f", "Horn in F", new Transposition(-4, -7)),
        new("e", "Horn in E", new Transposition(-5, -8)),
        new("eb", "Horn in E flat", new Transposition(-5, -9)),
        new("d", "Horn in D", new Transposition(-6, -10)),
        new("db", "Horn in D flat", new Transposition(-6, -11)),
        new("c", "Horn in C", new Transposition(0, 0, -1)),
        new("b-basso", "Horn in B basso", new Transposition(-1, -1, -1)),
        new("bb-basso", "Horn in B flat basso", new Transposition(-1, -2, -1)),
    ];

    /// <summary>The crooks that the head of a part can mean. More than one: the player must be asked, as with "Horn in B flat", alto or basso.</summary>
    /// <param name="heading">For example "Horn in E flat", "Horn in Bb basso" or "Eb". Case and spaces do not matter.</param>
    public static ImmutableArray<HornCrook> Meant(string heading)
    {
        ArgumentNullException.ThrowIfNull(heading);
        string text = heading.Trim().ToUpperInvariant();
        foreach (string opening in _nameOpenings)
        {
            if (text.StartsWith(opening, StringComparison.OrdinalIgnoreCase))
            {
                text = text[opening.Length..].Trim();
                break;
            }
        }

        string key = text.Replace("♭", "B", StringComparison.Ordinal)
            .Replace("♯", "#", StringComparison.Ordinal)
            .Replace(" FLAT", "B", StringComparison.Ordinal)
            .Replace("-FLAT", "B", StringComparison.Ordinal)
            .Replace(" SHARP", "#", StringComparison.Ordinal)
            .Replace("-SHARP", "#", StringComparison.Ordinal)
            .Replace(' ', '-');
        return [.. All.Where(crook => string.Equals(crook.Id, key, StringComparison.OrdinalIgnoreCase)
            || crook.Id.StartsWith(key + "-", StringComparison.OrdinalIgnoreCase))];
    }
}
