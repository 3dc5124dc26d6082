namespace EarCoach.Scores.MusicXml;

/// <summary>How to write a MusicXML file.</summary>
public sealed record MusicXmlWriteOptions
{
    /// <summary>Plain XML (.musicxml).</summary>
    public static MusicXmlWriteOptions Default { get; } = new();

    /// <summary>Whether it is written to be looked at: grace notes are then printed as such even where a reader would give them other times than they
    /// have, or another mark than they bear. Otherwise such ones are written with their time, so that nothing is lost.</summary>
    public bool ForShowing { get; init; }

    /// <summary>Whether to write a compressed file (.mxl).</summary>
    public bool Compressed { get; init; }
}
