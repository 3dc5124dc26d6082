using System.Text;
using EarCoach.Scores.MusicXml;

namespace EarCoach.Scores.Tests.MusicXml;

/// <summary>Builds small MusicXML documents from the text of the standard (MusicXML 4.0, W3C Music Notation Community Group).</summary>
internal static class XmlScore
{
    public const string Attributes = "<attributes><divisions>4</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>";

    /// <summary>A document of one part; each argument is the content of a measure.</summary>
    public static byte[] Of(params string[] measures) => Document(Part("P1", measures));

    public static string Part(string id, params string[] measures) =>
        $"<part id=\"{id}\">{string.Concat(measures.Select((measure, index) => $"\n<measure number=\"{index + 1}\">{measure}</measure>"))}\n</part>";

    public static byte[] Document(params string[] parts) => Encoding.UTF8.GetBytes(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        + "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" \"http://www.musicxml.org/dtds/partwise.dtd\">\n"
        + "<score-partwise version=\"4.0\">\n<movement-title>Study</movement-title>\n<part-list>"
        + "<score-part id=\"P1\"><part-name>Oboe</part-name></score-part><score-part id=\"P2\"><part-name>Horn in E flat</part-name></score-part></part-list>\n"
        + string.Concat(parts)
        + "\n</score-partwise>");

    /// <summary>A note in quarters of a crotchet; the pitch as in "F#4" or "Bb3".</summary>
    public static string Note(string pitch, int duration, string more = "", string before = "", string voice = "1")
    {
        int alter = pitch.Count(c => c == '#') - pitch.Skip(1).Count(c => c == 'b');
        return $"<note>{before}<pitch><step>{pitch[0]}</step><alter>{alter}</alter><octave>{pitch[^1]}</octave></pitch>"
            + $"{(duration > 0 ? $"<duration>{duration}</duration>" : string.Empty)}<voice>{voice}</voice>{more}</note>";
    }

    public static string Rest(int duration) => $"<note><rest/><duration>{duration}</duration></note>";

    public static string Notations(string content) => $"<notations>{content}</notations>";

    public static ScoreReading Read(byte[] document, MusicXmlReadOptions? options = null)
    {
        using MemoryStream stream = new(document);
        return MusicXmlPassageReader.Read(stream, options);
    }
}
