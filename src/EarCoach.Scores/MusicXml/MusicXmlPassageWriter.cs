using System.Collections.Immutable;
using System.Globalization;
using System.IO.Compression;
using System.Numerics;
using System.Text;
using System.Xml;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.MusicXml;

/// <summary>Writes a passage as MusicXML 4.0 (score-partwise), plain or compressed, at written pitch for its instrument.</summary>
/// <remarks>Everything a passage holds is kept; a clef of its own (old bass clef) is written, and not read back. What MusicXML has no word for (a note that may be left out, free time) stands in other-notation
/// elements that other programs pass over. Each note has the id n0, n1, ... of its place in the passage; its further tied pieces n0-2, n0-3, ...
/// Grace notes are written as such where a reader gives them the same times back.</remarks>
public static class MusicXmlPassageWriter
{
    private const int MostDivisions = 1_000_000;
    private const double SlowestTempo = 0.001;
    private const double FastestTempo = 1e9;
    private static readonly DateTimeOffset _archiveDate = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero); // the earliest a zip archive knows: same bytes every time

    /// <summary>Writes the file. The stream is left open.</summary>
    /// <exception cref="ArgumentException">The passage breaks a rule of <see cref="PassageRules"/>.</exception>
    /// <exception cref="ScoreException">The format cannot hold the passage exactly.</exception>
    public static void Write(Passage passage, Stream stream, MusicXmlWriteOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(stream);
        stream.Write(ToBytes(passage, options));
    }

    /// <summary>The bytes of the file.</summary>
    /// <exception cref="ArgumentException">The passage breaks a rule of <see cref="PassageRules"/>.</exception>
    /// <exception cref="ScoreException">The format cannot hold the passage exactly.</exception>
    public static byte[] ToBytes(Passage passage, MusicXmlWriteOptions? options = null)
    {
        PassageRules.ThrowIfBroken(passage);
        RequireWritableTempi(passage);
        options ??= MusicXmlWriteOptions.Default;
        ImmutableArray<bool> graces = GraceNotes.Of(passage.Notes);
        byte[] score = Score(passage, graces);
        if (graces.Contains(true) && !options.ForShowing && !ReadsBack(score, passage))
        {
            score = Score(passage, [.. graces.Select(_ => false)]);
        }

        return options.Compressed ? Compress(score) : score;
    }

    private static bool ReadsBack(byte[] score, Passage passage)
    {
        using MemoryStream stream = new(score, writable: false);
        return MusicXmlPassageReader.Read(stream).Passage.Notes.Select(Kept).SequenceEqual(passage.Notes.Select(Kept));

        static PassageNote Kept(PassageNote note) => note with { WrittenSpelling = null };
    }

    /// <param name="passage">What is written.</param>
    /// <param name="graces">Which of its notes are written as grace notes.</param>
    private static byte[] Score(Passage passage, ImmutableArray<bool> graces)
    {
        BarMap bars = new(passage);
        IReadOnlyList<(int Bar, List<ScorePiece> Pieces)> measures = MeasuresOf(passage, graces, bars);
        using MemoryStream stream = new();
        XmlWriterSettings settings = new() { Encoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), Indent = true, NewLineChars = "\n" };
        using (XmlWriter xml = XmlWriter.Create(stream, settings))
        {
            xml.WriteStartElement("score-partwise");
            xml.WriteAttributeString("version", "4.0");
            WriteHead(xml, passage);
            xml.WriteStartElement("part");
            xml.WriteAttributeString("id", "P1");
            MeasureWriter writer = new(xml, passage, graces, bars, DivisionsFor(passage, bars, measures));
            foreach ((int bar, List<ScorePiece> pieces) in measures)
            {
                writer.Write(bar, pieces);
            }

            xml.WriteEndElement();
            xml.WriteEndElement();
        }

        return stream.ToArray();
    }

    /// <summary>The pieces that have a time on the page; each names its note of the whole passage.</summary>
    private static IReadOnlyList<(int Bar, List<ScorePiece> Pieces)> MeasuresOf(Passage passage, ImmutableArray<bool> graces, BarMap bars)
    {
        if (!graces.Contains(true))
        {
            return ScorePiece.BarsOf(passage, bars);
        }

        int[] kept = [.. Enumerable.Range(0, graces.Length).Where(index => !graces[index])];
        return
        [
            .. ScorePiece.BarsOf(GraceNotes.Without(passage), bars)
                .Select(bar => (bar.Bar, bar.Pieces.Select(piece => piece with { NoteIndex = piece.NoteIndex is { } index ? kept[index] : null }).ToList())),
        ];
    }

    private static void WriteHead(XmlWriter xml, Passage passage)
    {
        Instrument? instrument = InstrumentTable.ById(passage.InstrumentId);
        string name = instrument?.Name ?? "Music";
        xml.WriteStartElement("work");
        xml.WriteElementString("work-title", new string([.. passage.Title.Where(XmlConvert.IsXmlChar)]));
        xml.WriteEndElement();
        xml.WriteStartElement("identification");
        xml.WriteStartElement("encoding");
        xml.WriteElementString("software", "EarCoach");
        xml.WriteEndElement();
        xml.WriteEndElement();
        xml.WriteStartElement("part-list");
        xml.WriteStartElement("score-part");
        xml.WriteAttributeString("id", "P1");
        xml.WriteElementString("part-name", name);
        if (instrument is not null)
        {
            xml.WriteStartElement("score-instrument");
            xml.WriteAttributeString("id", "P1-I1");
            xml.WriteElementString("instrument-name", name);
            xml.WriteEndElement();
            xml.WriteStartElement("midi-instrument");
            xml.WriteAttributeString("id", "P1-I1");
            xml.WriteElementString("midi-channel", "1");
            xml.WriteElementString("midi-program", instrument.GeneralMidiProgram.ToString(CultureInfo.InvariantCulture));
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
        xml.WriteEndElement();
    }

    private static Fraction DivisionsFor(Passage passage, BarMap bars, IReadOnlyList<(int Bar, List<ScorePiece> Pieces)> measures)
    {
        IEnumerable<Fraction> lengths = measures.SelectMany(measure => measure.Pieces.Select(piece => piece.Length));
        IEnumerable<Fraction> tempi = passage.Tempi.Select(mark => mark.At - bars.StartOf(bars.PositionOf(mark.At).Bar));
        BigInteger divisions = BigInteger.One;
        foreach (Fraction length in lengths.Concat(tempi))
        {
            divisions = divisions / BigInteger.GreatestCommonDivisor(divisions, length.Denominator) * length.Denominator;
            if (divisions > MostDivisions)
            {
                throw new ScoreException(
                    ScoreFailure.NotWritable, "whole passage", $"Its note values need {divisions} parts of a quarter note; at most {MostDivisions} are written. Round the note values.");
            }
        }

        return new Fraction((long)divisions, 1);
    }

    private static void RequireWritableTempi(Passage passage)
    {
        if (passage.Tempi.FirstOrDefault(mark => mark.QuartersPerMinute is < SlowestTempo or > FastestTempo) is { } mark)
        {
            throw new ScoreException(
                ScoreFailure.NotWritable,
                new BarMap(passage).PositionOf(mark.At).ToString(),
                string.Create(CultureInfo.InvariantCulture, $"A tempo of {mark.QuartersPerMinute} quarter notes a minute is not written; {SlowestTempo} to {FastestTempo} are. Choose another tempo."));
        }
    }

    private static byte[] Compress(byte[] score)
    {
        using MemoryStream stream = new();
        using (ZipArchive zip = new(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            const string Container = """
                <?xml version="1.0" encoding="UTF-8"?>
                <container><rootfiles><rootfile full-path="score.musicxml" media-type="application/vnd.recordare.musicxml+xml"/></rootfiles></container>
                """;
            Add(zip, "mimetype", "application/vnd.recordare.musicxml"u8, CompressionLevel.NoCompression);
            Add(zip, "META-INF/container.xml", Encoding.UTF8.GetBytes(Container), CompressionLevel.Optimal);
            Add(zip, "score.musicxml", score, CompressionLevel.Optimal);
        }

        return stream.ToArray();
    }

    private static void Add(ZipArchive zip, string name, ReadOnlySpan<byte> content, CompressionLevel level)
    {
        ZipArchiveEntry entry = zip.CreateEntry(name, level);
        entry.LastWriteTime = _archiveDate;
        using Stream target = entry.Open();
        target.Write(content);
    }
}
