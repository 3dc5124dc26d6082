using System.Xml.Linq;
using CsCheck;
using EarCoach.Core.Passages;
using EarCoach.Core.Tests.Passages;
using EarCoach.Scores.MusicXml;
using FluentAssertions;
using Xunit;
using static EarCoach.Scores.Tests.MusicXml.XmlScore;

namespace EarCoach.Scores.Tests.MusicXml;

// Source of the form: MusicXML 4.0, element grace: a grace note has a grace element in place of a duration and comes before the note it leads to.
public sealed class GraceNoteTests
{
    private static readonly byte[] _score = Of(
        Attributes + Note("C4", 4) + Note("D5", 0, before: "<grace/>") + Note("D4", 4) + Note("E4", 4) + Note("F4", 4),
        Note("G4", 0, before: "<grace/>") + Note("F4", 0, before: "<grace/>") + Note("E4", 8) + Note("C4", 8));

    [Fact]
    public void GraceNotes_ThatWereRead_AreWrittenAsSuch_AndReadTheSame()
    {
        Passage passage = Read(_score).Passage;
        passage.Notes.Select(note => note.IsGrace).Should().Equal(false, true, false, false, false, true, true, false, false);

        byte[] written = MusicXmlPassageWriter.ToBytes(passage);

        XElement[] notes = [.. XDocument.Load(new MemoryStream(written)).Descendants("note")];
        notes.Select(note => note.Element("grace") is not null).Should().Equal(passage.Notes.Select(note => note.IsGrace));
        notes.Select(note => (string?)note.Attribute("id")).Should().Equal(Enumerable.Range(0, 9).Select(index => $"n{index}"));
        notes.Where(note => note.Element("grace") is null).Select(note => (int)note.Element("duration")!).Should().Equal(1, 1, 1, 1, 2, 2);
        Read(written).Passage.Notes.Should().Equal(passage.Notes);
    }

    /// <summary>Whatever notes call themselves grace notes, nothing is lost; to be looked at, they are always drawn as such.</summary>
    [Fact]
    public void AnyPassage_ComesBackExactly() => Gen.Select(PassageGen.Marked, Gen.Bool.Array[24]).Sample((plain, graces) =>
    {
        Passage passage = plain with { Notes = [.. plain.Notes.Select((note, index) => note with { IsGrace = graces[index] })] };
        Passage read = Read(MusicXmlPassageWriter.ToBytes(passage)).Passage;
        read.Notes.Select(note => note with { WrittenSpelling = null }).Should().Equal(passage.Notes.Select(note => note with { WrittenSpelling = null }));

        using MemoryStream shown = new(MusicXmlPassageWriter.ToBytes(passage, new MusicXmlWriteOptions { ForShowing = true }));
        XDocument.Load(shown).Descendants("note").Count(note => note.Element("grace") is not null).Should().Be(GraceNotes.Of(passage.Notes).Count(isGrace => isGrace));
    });

    [Fact]
    public void Without_GivesTheNoteBeforeItsTimeBack()
    {
        Passage without = GraceNotes.Without(Read(_score).Passage);

        without.Notes.Select(note => (note.Onset, note.Length)).Should().Equal(
            (new Fraction(0, 1), new Fraction(1, 1)), (new Fraction(1, 1), new Fraction(1, 1)), (new Fraction(2, 1), new Fraction(1, 1)),
            (new Fraction(3, 1), new Fraction(1, 1)), (new Fraction(4, 1), new Fraction(2, 1)), (new Fraction(6, 1), new Fraction(2, 1)));
    }
}
