using System.Globalization;
using System.Xml;
using System.Xml.Linq;
using EarCoach.Scores.Written;

namespace EarCoach.Scores.MusicXml;

/// <summary>A whole MusicXML file as it stands on the page, read measure by measure.</summary>
/// <param name="Title">Of the work or movement, or null.</param>
/// <param name="Parts">In the order of the file.</param>
internal sealed record WrittenScore(string? Title, IReadOnlyList<WrittenPart> Parts)
{
    private const int MostBytes = 32 * 1024 * 1024;

    /// <summary>Reads a file, compressed or not.</summary>
    /// <exception cref="ScoreException">It cannot be used.</exception>
    public static WrittenScore Read(Stream stream)
    {
        byte[] bytes = BoundedStreamReading.ReadAll(stream, MostBytes, "MusicXML file");
        if (bytes.Length == 0)
        {
            throw new ScoreException(ScoreFailure.NotThisFormat, "byte 0", "The file is empty. Choose a MusicXML file (.musicxml, .xml or .mxl).");
        }

        if (bytes.AsSpan().StartsWith("PK"u8))
        {
            bytes = MxlArchive.Unpack(bytes, MostBytes);
        }

        SafeXml.RequireSound(bytes);
        try
        {
            using XmlReader reader = SafeXml.Open(bytes);
            return ReadDocument(reader);
        }
        catch (XmlException exception)
        {
            throw SafeXml.Malformed(exception);
        }
    }

    private static WrittenScore ReadDocument(XmlReader reader)
    {
        reader.MoveToContent();
        switch (reader.LocalName)
        {
            case "score-partwise":
                break;
            case "score-timewise":
                throw new ScoreException(
                    ScoreFailure.Unsupported, "line 1", "The file is ordered by measures (score-timewise); files ordered by parts (score-partwise) are read. Export it so, as nearly all programs do.");
            default:
                throw new ScoreException(
                    ScoreFailure.NotThisFormat, "line 1", $"The file begins with <{reader.LocalName}>; a MusicXML score begins with <score-partwise>. Choose a MusicXML file.");
        }

        string? workTitle = null;
        string? movementTitle = null;
        Dictionary<string, (string? Name, int? Program)> partList = [];
        List<WrittenPart> parts = [];
        while (reader.Read())
        {
            if (reader.NodeType != XmlNodeType.Element || reader.Depth != 1)
            {
                continue;
            }

            switch (reader.LocalName)
            {
                case "work":
                    workTitle = Text(Load(reader).Element("work-title"));
                    break;
                case "movement-title":
                    movementTitle = Text(Load(reader));
                    break;
                case "part-list":
                    ReadPartList(Load(reader), partList);
                    break;
                case "part":
                    string id = reader.GetAttribute("id") ?? $"{parts.Count + 1}";
                    (string? name, int? program) = partList.GetValueOrDefault(id);
                    parts.Add(ReadPart(reader, id, name, program));
                    break;
            }
        }

        return new WrittenScore(workTitle ?? movementTitle, parts);
    }

    private static void ReadPartList(XElement list, Dictionary<string, (string? Name, int? Program)> partList)
    {
        foreach (XElement part in list.Elements("score-part"))
        {
            string? program = part.Elements("midi-instrument").Elements("midi-program").FirstOrDefault()?.Value;
            bool isProgram = int.TryParse(program, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number is >= 1 and <= 128;
            partList[(string?)part.Attribute("id") ?? string.Empty] = (Text(part.Element("part-name")), isProgram ? number : null);
        }
    }

    private static WrittenPart ReadPart(XmlReader reader, string id, string? name, int? program)
    {
        MeasureReader measures = new(id);
        List<(WrittenMeasure, IReadOnlyDictionary<string, List<WrittenNote>>)> read = [];
        using XmlReader part = reader.ReadSubtree();
        part.Read();
        while (part.Read())
        {
            if (part is { NodeType: XmlNodeType.Element, Depth: 1, LocalName: "measure" })
            {
                read.Add(measures.Read(Load(part)));
            }
        }

        return new WrittenPart(id, name, program, read, measures);
    }

    private static XElement Load(XmlReader reader)
    {
        using XmlReader element = reader.ReadSubtree();
        return XElement.Load(element, LoadOptions.SetLineInfo);
    }

    private static string? Text(XElement? element) => element?.Value.Trim() is { Length: > 0 } text ? text : null;
}
