namespace EarCoach.Scores;

/// <summary>The formats that are read.</summary>
public enum ScoreFormat
{
    /// <summary>Standard MIDI File.</summary>
    Midi,

    /// <summary>MusicXML, plain or compressed.</summary>
    MusicXml,

    /// <summary>ABC notation.</summary>
    Abc,
}
