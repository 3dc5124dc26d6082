namespace EarCoach.Scores.MusicXml;

/// <summary>How to write a MusicXML file.</summary>
public sealed record MusicXmlWriteOptions
{
    /// <summary>Plain XML (.musicxml).</summary>
    public static MusicXmlWriteOptions Default { get; } = new();

    /// <summary>Whether to write a compressed file (.mxl).</summary>
    public bool Compressed { get; init; }
}
