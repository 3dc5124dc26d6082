using EarCoach.Core.Passages;

namespace EarCoach.Scores.Abc;

/// <summary>What the marks before a note mean (ABC 2.1, section 4.14).</summary>
internal static class AbcDecorations
{
    /// <summary>The name behind a one-letter mark, or null where the letter has no meaning unless a tune gives it one.</summary>
    public static string? NameOf(char mark) => mark switch
    {
        '.' => "staccato",
        '~' => "roll",
        'H' => "fermata",
        'L' => "accent",
        'M' => "lowermordent",
        'O' => "coda",
        'P' => "uppermordent",
        'S' => "segno",
        'T' => "trill",
        'u' => "upbow",
        'v' => "downbow",
        _ => null,
    };

    public static Articulations ArticulationOf(string name) => name switch
    {
        "staccato" or "wedge" => Articulations.Staccato,
        "tenuto" => Articulations.Tenuto,
        "accent" or "emphasis" or ">" => Articulations.Accent,
        "marcato" or "^" => Articulations.Marcato,
        "fermata" or "invertedfermata" => Articulations.Fermata,
        _ => Articulations.None,
    };

    public static bool IsOrnament(string name) => name is "roll" or "trill" or "trill(" or "mordent" or "lowermordent" or "uppermordent" or "pralltriller"
        or "turn" or "turnx" or "invertedturn" or "invertedturnx" or "arpeggio" or "slide";

    public static bool IsJump(string name) =>
        name.StartsWith("D.C", StringComparison.Ordinal) || name.StartsWith("D.S", StringComparison.Ordinal) || name.StartsWith("dac", StringComparison.OrdinalIgnoreCase);
}
