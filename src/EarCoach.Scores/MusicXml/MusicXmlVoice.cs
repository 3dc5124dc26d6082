namespace EarCoach.Scores.MusicXml;

/// <summary>One line to choose from a MusicXML file.</summary>
/// <param name="PartId">Id of the part, for example "P1".</param>
/// <param name="PartName">Name of the part, or null.</param>
/// <param name="Voice">Voice within the part, for example "1".</param>
/// <param name="NoteCount">How many notes, tied ones and grace notes counted singly.</param>
/// <param name="Lowest">Lowest sounding MIDI number.</param>
/// <param name="Highest">Highest sounding MIDI number.</param>
public sealed record MusicXmlVoice(string PartId, string? PartName, string Voice, int NoteCount, int Lowest, int Highest);
