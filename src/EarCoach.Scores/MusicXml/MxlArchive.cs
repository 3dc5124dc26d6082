using System.IO.Compression;
using System.Xml;

namespace EarCoach.Scores.MusicXml;

/// <summary>Takes the score out of a compressed MusicXML file (.mxl), within limits. Nothing is written to disk.</summary>
/// <remarks>Source of the layout: MusicXML 4.0, compressed files: a zip archive whose META-INF/container.xml names the score. The limits guard
/// against archives made to swell: what is unpacked is counted as it comes, not believed from the archive's own table.</remarks>
internal static class MxlArchive
{
    private const int MostEntries = 1_000;
    private const int MostContainerBytes = 64 * 1024;
    private const int HighestRatio = 200;
    private const int RatioMattersFromBytes = 1024 * 1024;
    private const string Container = "META-INF/container.xml";

    /// <summary>The bytes of the score.</summary>
    /// <exception cref="ScoreException">No such archive, no score in it, or one beyond the limits.</exception>
    public static byte[] Unpack(byte[] archive, int mostBytes)
    {
        try
        {
            using ZipArchive zip = new(new MemoryStream(archive, writable: false), ZipArchiveMode.Read);
            if (zip.Entries.Count > MostEntries)
            {
                throw new ScoreException(ScoreFailure.TooLarge, "archive", $"The archive has {zip.Entries.Count} entries; at most {MostEntries} are looked at. Export the part alone.");
            }

            return Read(zip, RootFile(Read(zip, Container, MostContainerBytes)), mostBytes);
        }
        catch (Exception exception) when (exception is InvalidDataException or EndOfStreamException or IOException or NotSupportedException or ArgumentException)
        {
            throw new ScoreException(ScoreFailure.Malformed, "archive", $"The compressed file cannot be unpacked ({exception.Message.TrimEnd('.')}). Copy or export it again.", exception);
        }
    }

    private static byte[] Read(ZipArchive zip, string name, int mostBytes)
    {
        ZipArchiveEntry entry = zip.GetEntry(name)
            ?? throw new ScoreException(ScoreFailure.Malformed, $"archive, {name}", "The archive has no such file, which a compressed MusicXML file needs. Export it again.");
        using Stream content = entry.Open();
        using MemoryStream copy = new();
        byte[] buffer = new byte[16_384];
        for (int read = content.Read(buffer); read > 0; read = content.Read(buffer))
        {
            copy.Write(buffer, 0, read);
            bool swells = copy.Length > RatioMattersFromBytes && copy.Length > HighestRatio * Math.Max(1, entry.CompressedLength);
            if (copy.Length > mostBytes || swells)
            {
                throw new ScoreException(
                    ScoreFailure.TooLarge,
                    $"archive, {name}",
                    $"The file unpacks to more than {(swells ? $"{HighestRatio} times its packed size" : $"{mostBytes} bytes")}, the most that is read. Export the part alone.");
            }
        }

        return copy.ToArray();
    }

    private static string RootFile(byte[] container)
    {
        using XmlReader reader = SafeXml.Open(container);
        try
        {
            while (reader.Read())
            {
                if (reader is { NodeType: XmlNodeType.Element, LocalName: "rootfile" } && reader.GetAttribute("full-path") is { Length: > 0 } path)
                {
                    return path;
                }
            }
        }
        catch (XmlException exception)
        {
            throw SafeXml.Malformed(exception, $"archive, {Container}, ");
        }

        throw new ScoreException(ScoreFailure.Malformed, $"archive, {Container}", "It names no score (no rootfile with a full-path). Export the file again.");
    }
}
