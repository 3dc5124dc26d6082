namespace EarCoach.Core.Passages;

/// <summary>A clef, in the terms of MusicXML.</summary>
/// <param name="Sign">'G', 'F' or 'C'.</param>
/// <param name="Line">Staff line, counted from the lowest.</param>
public readonly record struct Clef(char Sign, int Line)
{
    /// <summary>Treble clef.</summary>
    public static Clef Treble => new('G', 2);

    /// <summary>Bass clef.</summary>
    public static Clef Bass => new('F', 4);

    /// <summary>Alto clef.</summary>
    public static Clef Alto => new('C', 3);

    /// <summary>Tenor clef.</summary>
    public static Clef Tenor => new('C', 4);
}
