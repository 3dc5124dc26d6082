using System.Text;
using EarCoach.Core.Passages;
using EarCoach.Scores.Midi;
using EarCoach.Scores.MusicXml;
using FluentAssertions;
using Xunit;

namespace EarCoach.Scores.Tests;

public sealed class ScoreFileTests
{
    private const string TwoTunes = "%abc-2.1\nX:3\nT:First\nL:1/4\nK:C\nC E G|\n\nX:8\nT:Chord\nL:1/4\nK:C\n[CE] G|\n";

    private static readonly Passage _passage = new()
    {
        Title = "Invented",
        InstrumentId = "horn-f",
        Notes = [.. new[] { 53, 57, 60 }.Select((pitch, index) => new PassageNote { MidiPitch = pitch, Onset = index, Length = 1 })],
    };

    [Fact]
    public void FormatOf_IsToldByTheContent()
    {
        ScoreFile.FormatOf(MidiPassageWriter.ToBytes(_passage)).Should().Be(ScoreFormat.Midi);
        ScoreFile.FormatOf(MusicXmlPassageWriter.ToBytes(_passage)).Should().Be(ScoreFormat.MusicXml);
        ScoreFile.FormatOf(MusicXmlPassageWriter.ToBytes(_passage, new MusicXmlWriteOptions { Compressed = true })).Should().Be(ScoreFormat.MusicXml);
        ScoreFile.FormatOf(Encoding.UTF8.GetBytes(TwoTunes)).Should().Be(ScoreFormat.Abc);
        ScoreFile.FormatOf("RIFFxxxxWAVE"u8).Should().BeNull();
        ScoreFile.FormatOf(default).Should().BeNull();
    }

    [Fact]
    public void Describe_ListsEachLine_WithNotesAndSoundingRange()
    {
        ScoreFile.Describe(MidiPassageWriter.ToBytes(_passage)).Lines.Should().ContainSingle().Which.Should().BeEquivalentTo(new { NoteCount = 3, Lowest = 53, Highest = 60 });
        ScoreFile.Describe(MusicXmlPassageWriter.ToBytes(_passage)).Lines.Should().ContainSingle().Which.Should().BeEquivalentTo(new { NoteCount = 3, Lowest = 53, Highest = 60 });
        ScoreContents abc = ScoreFile.Describe(Encoding.UTF8.GetBytes(TwoTunes));
        abc.Lines.Select(line => (line.Name, line.NoteCount)).Should().Equal(("Tune 3: First", 3), ("Tune 8: Chord", null));
        abc.Lines[1].Problem.Should().StartWith("line 12, column 1: A chord begins here");
    }

    [Fact]
    public void Read_TheLineChosen()
    {
        ScoreFile.Read(Encoding.UTF8.GetBytes(TwoTunes), new ScoreReadOptions { Line = 0 }).Passage.Notes.Select(note => note.MidiPitch).Should().Equal(60, 64, 67);
        FluentActions.Invoking(() => ScoreFile.Read(Encoding.UTF8.GetBytes(TwoTunes), new ScoreReadOptions { Line = 2 })).Should().Throw<ScoreException>().WithMessage("*the file has 2*");
        FluentActions.Invoking(() => ScoreFile.Read("nothing of the kind"u8.ToArray())).Should().Throw<ScoreException>().WithMessage("*MIDI begins with MThd*");
        FluentActions.Invoking(() => ScoreFile.Describe([])).Should().Throw<ScoreException>().WithMessage("*The file is empty*");
    }

    /// <summary>Notes in bass clef of the old notation stand in that clef, and the usual one comes back behind them.</summary>
    [Fact]
    public void Write_OldBassClef_ChangesTheClefThereAndBack()
    {
        Passage part = PartInstrument.OfNotes(_passage, new NoteRange(1, 1), HornCrooks.All.First(crook => crook.Id == "f").OldBassClef, Clef.Bass, keepWritten: true);
        string xml = Encoding.UTF8.GetString(MusicXmlPassageWriter.ToBytes(part));

        System.Xml.Linq.XDocument.Parse(xml).Descendants("sign").Select(sign => sign.Value).Should().Equal("G", "F", "G");
        MusicXmlPassageReader.Read(new MemoryStream(Encoding.UTF8.GetBytes(xml))).Passage.Notes.Select(note => note.MidiPitch).Should().Equal(part.Notes.Select(note => note.MidiPitch));
    }
}
