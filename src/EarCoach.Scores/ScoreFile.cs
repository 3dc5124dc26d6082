using System.Collections.Immutable;
using System.Globalization;
using EarCoach.Scores.Abc;
using EarCoach.Scores.Midi;
using EarCoach.Scores.MusicXml;

namespace EarCoach.Scores;

/// <summary>Reads a score of any format that is understood; which it is, its first bytes tell.</summary>
public static class ScoreFile
{
    private const int MostSearched = 64 * 1024; // a text header before the first tune

    /// <summary>The format; null where it is none that is read.</summary>
    /// <param name="bytes">The file, or at least its beginning.</param>
    public static ScoreFormat? FormatOf(ReadOnlySpan<byte> bytes)
    {
        int first = bytes.IndexOfAnyExcept("\uFEFF \t\r\n"u8); // a byte order mark, and space
        if (bytes.StartsWith("MThd"u8))
        {
            return ScoreFormat.Midi;
        }

        if (bytes.StartsWith("PK"u8) || bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) || bytes.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]) || (first >= 0 && bytes[first] == (byte)'<'))
        {
            return ScoreFormat.MusicXml;
        }

        ReadOnlySpan<byte> head = bytes[..Math.Min(bytes.Length, MostSearched)];
        bool isText = head.IndexOf((byte)0) < 0;
        return isText && first >= 0 && (head[first..].StartsWith("X:"u8) || head.IndexOf("\nX:"u8) >= 0 || head.IndexOf("\rX:"u8) >= 0) ? ScoreFormat.Abc : null;
    }

    /// <summary>Lists what can be chosen.</summary>
    /// <exception cref="ScoreException">No file of these formats, or one that cannot be used.</exception>
    public static ScoreContents Describe(byte[] bytes)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        using MemoryStream stream = new(bytes, writable: false);
        ScoreFormat format = RequireFormat(bytes);
        ImmutableArray<ScoreLine> lines = format switch
        {
            ScoreFormat.Midi => [.. MidiPassageReader.Describe(stream).Parts.Select(LineOf)],
            ScoreFormat.MusicXml => [.. MusicXmlPassageReader.Describe(stream).Voices.Select(LineOf)],
            _ => AbcPassageReader.DescribeLines(stream),
        };
        return lines.Length > 0
            ? new ScoreContents(format, lines)
            : throw new ScoreException(ScoreFailure.NoNotes, "whole file", "There is no note in it. Choose a file with the part you practise.");
    }

    /// <summary>Reads one line into a passage.</summary>
    /// <exception cref="ScoreException">No file of these formats, one that cannot be used, or several lines and none chosen.</exception>
    public static ScoreReading Read(byte[] bytes, ScoreReadOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        options ??= ScoreReadOptions.Default;
        using MemoryStream stream = new(bytes, writable: false);
        switch (RequireFormat(bytes))
        {
            case ScoreFormat.Midi:
                MidiPart? part = Chosen(options.Line, () => MidiPassageReader.Describe(Again(bytes)).Parts);
                return new ScoreReading(MidiPassageReader.Read(stream, new MidiReadOptions { Track = part?.Track, Channel = part?.Channel, Title = options.Title }), []);
            case ScoreFormat.MusicXml:
                MusicXmlVoice? voice = Chosen(options.Line, () => MusicXmlPassageReader.Describe(Again(bytes)).Voices);
                return MusicXmlPassageReader.Read(stream, new MusicXmlReadOptions
                {
                    PartId = voice?.PartId,
                    Voice = voice?.Voice,
                    Title = options.Title,
                    Repeats = options.Repeats,
                    GraceNotes = options.GraceNotes,
                });
            default:
                AbcTune? tune = Chosen(options.Line, () => AbcPassageReader.Describe(Again(bytes)));
                return AbcPassageReader.Read(stream, new AbcReadOptions { TuneNumber = tune?.Number, Title = options.Title, Repeats = options.Repeats, GraceNotes = options.GraceNotes });
        }
    }

    private static MemoryStream Again(byte[] bytes) => new(bytes, writable: false);

    private static ScoreFormat RequireFormat(byte[] bytes) => FormatOf(bytes) ?? throw new ScoreException(
        ScoreFailure.NotThisFormat,
        "byte 0",
        bytes.Length == 0
            ? "The file is empty. Choose a MIDI, MusicXML or ABC file."
            : "The file is none that is read: MIDI begins with MThd, MusicXML with < (compressed: PK), ABC has a line X: at the head of a tune. Export the part in one of these formats.");

    private static T? Chosen<T>(int? line, Func<ImmutableArray<T>> lines)
        where T : class
    {
        if (line is not { } index)
        {
            return null;
        }

        ImmutableArray<T> all = lines();
        return index >= 0 && index < all.Length
            ? all[index]
            : throw new ScoreException(ScoreFailure.PartNotFound, "whole file", $"Line {index + 1} was chosen; the file has {all.Length}. Choose one of them.");
    }

    private static ScoreLine LineOf(MidiPart part) => new(
        string.Create(CultureInfo.InvariantCulture, $"{(part.Name is { Length: > 0 } name ? name + ": t" : "T")}rack {part.Track}, channel {part.Channel}"), part.NoteCount, part.Lowest, part.Highest, part.Name);

    private static ScoreLine LineOf(MusicXmlVoice voice) => new($"{voice.PartName ?? $"Part {voice.PartId}"}, voice {voice.Voice}", voice.NoteCount, voice.Lowest, voice.Highest, voice.PartName);
}
