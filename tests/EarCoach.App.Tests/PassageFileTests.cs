using EarCoach.App.Commands;
using EarCoach.Core.Passages;
using EarCoach.Scores;
using EarCoach.Scores.MusicXml;
using FluentAssertions;
using Xunit;

namespace EarCoach.App.Tests;

public sealed class PassageFileTests
{
    private static readonly PassageChoice _only = new(null, null, null, null, null, null);
    private static readonly string _horn = Path.Combine(CommandRun.Root, "fixtures", "passages", "horn-valley-call.mid");

    [Fact]
    public void Read_MusicXmlOfTheSamePassage_GivesTheSameNotesAndInstrument()
    {
        Passage passage = PassageFile.Read(_horn, _only).Passage;
        string path = Path.Combine(Path.GetTempPath(), $"earcoach-{Guid.NewGuid():N}.xml");
        try
        {
            using (FileStream file = File.Create(path))
            {
                MusicXmlPassageWriter.Write(passage, file);
            }

            Passage read = PassageFile.Read(path, _only).Passage;

            read.Notes.Select(n => (n.MidiPitch, n.Onset, n.Length)).Should().Equal(passage.Notes.Select(n => (n.MidiPitch, n.Onset, n.Length)));
            read.InstrumentId.Should().Be("horn-f");
            read.Title.Should().Be("Valley call");
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void Read_InstrumentNamed_OverridesTheFile() =>
        PassageFile.Read(_horn, _only with { Instrument = "clarinet in A" }).Passage.InstrumentId.Should().Be("clarinet-a");

    [Fact]
    public void Read_TempoInATrackOfItsOwn_FindsTheOnePart()
    {
        ScoreReading reading = PassageFile.Read(Path.Combine(CommandRun.Root, "fixtures", "passages", "trumpet-gate-signal.mid"), _only);

        reading.Passage.Notes.Should().HaveCount(13);
        reading.Passage.Tempi[0].QuartersPerMinute.Should().BeApproximately(104, 0.001);
        reading.Passage.InstrumentId.Should().Be("trumpet-bb");
    }

    // Source: the ABC music standard 2.1: C is middle C (MIDI 60), L:1/8 makes C an eighth; the tunes are invented here.
    [Fact]
    public void Read_AbcOfTwoTunes_TakesTheOneNamed()
    {
        string path = Path.Combine(Path.GetTempPath(), $"earcoach-{Guid.NewGuid():N}.abc");
        try
        {
            File.WriteAllText(path, "X:1\nT:First of two\nM:4/4\nL:1/8\nK:C\nC2 D2 E2 F2|\n\nX:2\nT:Second of two\nM:3/4\nL:1/8\nK:C\nG2 A2 B2|\n");

            Passage read = PassageFile.Read(path, _only with { Tune = 2 }).Passage;

            read.Title.Should().Be("Second of two");
            read.Notes.Select(note => note.MidiPitch).Should().Equal(67, 69, 71);
            FluentActions.Invoking(() => PassageFile.Read(path, _only)).Should().Throw<ScoreException>().WithMessage("*2 tunes*Choose by its number*");
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void Read_CompressedMusicXml_IsUnpacked()
    {
        Passage passage = PassageFile.Read(_horn, _only).Passage;
        string path = Path.Combine(Path.GetTempPath(), $"earcoach-{Guid.NewGuid():N}.mxl");
        try
        {
            using (FileStream file = File.Create(path))
            {
                MusicXmlPassageWriter.Write(passage, file, new MusicXmlWriteOptions { Compressed = true });
            }

            PassageFile.Read(path, _only).Passage.Notes.Select(n => (n.MidiPitch, n.Onset)).Should().Equal(passage.Notes.Select(n => (n.MidiPitch, n.Onset)));
        }
        finally
        {
            File.Delete(path);
        }
    }
}
