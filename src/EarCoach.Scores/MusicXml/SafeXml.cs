using System.Globalization;
using System.Xml;

namespace EarCoach.Scores.MusicXml;

/// <summary>Opens XML that came from anywhere: no document type definition is read, nothing outside the file is fetched.</summary>
internal static class SafeXml
{
    private const int MostCharacters = 64 * 1024 * 1024;

    public static XmlReader Open(byte[] bytes) => XmlReader.Create(new MemoryStream(bytes, writable: false), new XmlReaderSettings
    {
        DtdProcessing = DtdProcessing.Ignore, // most MusicXML files have a document type; its entities stay undefined
        XmlResolver = null,
        IgnoreComments = true,
        IgnoreProcessingInstructions = true,
        IgnoreWhitespace = true,
        MaxCharactersInDocument = MostCharacters,
        MaxCharactersFromEntities = 1024,
    });

    /// <summary>Reads the whole document once, so that what follows may trust that it is well formed and not nested without end.</summary>
    /// <exception cref="ScoreException">It is not.</exception>
    public static void RequireSound(byte[] bytes)
    {
        const int DeepestNesting = 64;
        try
        {
            using XmlReader reader = Open(bytes);
            while (reader.Read())
            {
                if (reader.Depth > DeepestNesting)
                {
                    IXmlLineInfo line = (IXmlLineInfo)reader;
                    throw new ScoreException(
                        ScoreFailure.Malformed,
                        string.Create(CultureInfo.InvariantCulture, $"line {line.LineNumber}, column {line.LinePosition}"),
                        $"Elements are nested more than {DeepestNesting} deep, which no MusicXML file needs. Export the file again.");
                }
            }
        }
        catch (XmlException exception)
        {
            throw Malformed(exception);
        }
    }

    public static ScoreException Malformed(XmlException exception, string prefix = "") => new(
        ScoreFailure.Malformed,
        string.Create(CultureInfo.InvariantCulture, $"{prefix}line {Math.Max(1, exception.LineNumber)}, column {Math.Max(1, exception.LinePosition)}"),
        $"This is no well-formed XML ({exception.Message.TrimEnd('.')}). Export the file again.",
        exception);
}
