using EarCoach.Core.Passages;
using EarCoach.Scores.Midi;
using FluentAssertions;
using Xunit;

namespace EarCoach.Scores.Tests.Midi;

// Source of every rule checked here: RP-001, Standard MIDI Files 1.0; the files are built from its text by SmfBytes.
public sealed class MidiPassageReaderTests
{
    [Fact]
    public void Read_NotesTempoMetreAndKey_AreThoseOfTheFile()
    {
        byte[] track = new SmfBytes().Name("Horn").Key(0, -3).Meter(0, 6, 3).Tempo(0, 500_000)
            .Note(60, 240, rest: 480).Note(62, 160).Note(64, 80, rest: 80).Tempo(0, 1_000_000).Note(65, 480).End();

        Passage passage = Read(SmfBytes.File(0, 480, track));

        passage.Title.Should().Be("Horn");
        passage.KeyFifths.Should().Be(-3);
        passage.Meters.Should().Equal(new MeterMark(Fraction.Zero, 6, 8));
        passage.Tempi.Should().Equal(new TempoMark(Fraction.Zero, 120), new TempoMark(new Fraction(13, 6), 60));
        passage.Notes.Select(note => (note.MidiPitch, note.Onset, note.Length)).Should().Equal(
            (60, Fraction.One, new Fraction(1, 2)),
            (62, new Fraction(3, 2), new Fraction(1, 3)),
            (64, new Fraction(2, 1), new Fraction(1, 6)),
            (65, new Fraction(13, 6), Fraction.One));
    }

    [Theory]
    [InlineData(24)]
    [InlineData(96)]
    [InlineData(960)]
    [InlineData(1001)]
    [InlineData(32_767)]
    public void Read_AnyTicksAQuarter_GivesTheSameQuarters(int ticks)
    {
        byte[] track = new SmfBytes().Tempo(0, 600_000).Note(60, ticks).Tempo(ticks, 300_000).Note(62, ticks).End();

        Passage passage = Read(SmfBytes.File(0, ticks, track));

        passage.Notes.Select(note => note.Onset).Should().Equal(Fraction.Zero, new Fraction(2, 1));
        passage.Tempi.Should().Equal(new TempoMark(Fraction.Zero, 100), new TempoMark(new Fraction(2, 1), 200));
    }

    [Fact]
    public void Read_WithoutTempoAndMetre_TakesTheStandardsDefaults()
    {
        Passage passage = Read(SmfBytes.File(0, 96, new SmfBytes().Note(60, 96).End()));

        passage.Tempi.Should().Equal(new TempoMark(Fraction.Zero, 120));
        passage.Meters.Should().Equal(new MeterMark(Fraction.Zero, 4, 4));
        passage.KeyFifths.Should().Be(0);
        passage.Title.Should().Be("Untitled");
    }

    [Fact]
    public void Read_RunningStatusAndVelocityZero_EndNotes()
    {
        byte[] track = new SmfBytes().On(0, 60).Raw(96, 60, 0).Raw(0, 62, 80).Raw(96, 62, 0).End();

        Read(SmfBytes.File(0, 96, track)).Notes.Select(note => (note.MidiPitch, note.Length)).Should().Equal((60, Fraction.One), (62, Fraction.One));
    }

    [Fact]
    public void Read_FormatOneWithTempoInTheFirstTrack_AppliesItToTheOnlyTrackWithNotes()
    {
        byte[] conductor = new SmfBytes().Name("Study").Tempo(0, 400_000).Meter(0, 3, 2).End();
        byte[] part = new SmfBytes().Note(70, 96).End();

        Passage passage = Read(SmfBytes.File(1, 96, conductor, part));

        passage.Title.Should().Be("Study");
        passage.Tempi.Should().Equal(new TempoMark(Fraction.Zero, 150));
        passage.Meters.Should().Equal(new MeterMark(Fraction.Zero, 3, 4));
    }

    [Fact]
    public void Read_SystemExclusiveUnknownChunksAndUnknownMetaEvents_AreSteppedOver()
    {
        byte[] track = new SmfBytes().Raw(0, 0xF0, 3, 0x7E, 0x09, 0xF7).Raw(0, 0xF7, 2, 1, 2).Raw(0, 0xFF, 0x60, 1, 9).Note(60, 96).End();
        byte[] file = SmfBytes.File(0, 96, track);

        Passage passage = Read([.. file[..14], .. SmfBytes.Chunk("XFIH", [1, 2, 3]), .. file[14..]]);

        passage.Notes.Should().ContainSingle();
    }

    [Theory]
    [InlineData(1, 2, 1)] // a crotchet before 4/4
    [InlineData(1, 3, 2)]
    public void Read_ShortFirstBar_IsThePickup(int beats, int power, int denominator)
    {
        Fraction pickup = new(1, denominator);
        byte[] track = new SmfBytes().Meter(0, beats, power).On(0, 60).Meter(480 / denominator, 4, 2).Off(0, 60).Note(62, 480).End();

        Passage passage = Read(SmfBytes.File(0, 480, track));

        passage.Pickup.Should().Be(pickup);
        passage.Meters.Should().Equal(new MeterMark(Fraction.Zero, 4, 4));
        new BarMap(passage).PositionOf(passage.Notes[1].Onset).Should().Be(new BarPosition(1, Fraction.One));
    }

    [Fact]
    public void Describe_SeveralParts_ListsEachWithRangeAndCount()
    {
        byte[] first = new SmfBytes().Name("Flute").Raw(0, 0xC0, 73).Note(72, 96).Note(84, 96).End();
        byte[] second = new SmfBytes().Note(40, 96, channel: 3).Note(43, 96, channel: 10).End();

        MidiDescription description = MidiPassageReader.Describe(SmfBytes.Open(SmfBytes.File(1, 96, first, second)));

        description.Parts.Should().Equal(
            new MidiPart(1, 1, "Flute", 74, 2, 72, 84),
            new MidiPart(2, 3, null, null, 1, 40, 40),
            new MidiPart(2, 10, null, null, 1, 43, 43));
    }

    [Fact]
    public void Read_SeveralParts_NamesThemAndReadsTheOneChosen()
    {
        byte[] file = SmfBytes.File(1, 96, new SmfBytes().Name("Flute").Note(72, 96).End(), new SmfBytes().Name("Horn").Note(53, 96, channel: 2).End());

        FluentActions.Invoking(() => Read(file)).Should().Throw<ScoreException>()
            .Where(e => e.Failure == ScoreFailure.PartNotChosen && e.Message.Contains("track 1 'Flute', channel 1, 1 notes, C5 to C5; track 2 'Horn', channel 2"));
        Read(file, new MidiReadOptions { Track = 2 }).Notes[0].MidiPitch.Should().Be(53);
        Read(file, new MidiReadOptions { Channel = 1 }).Title.Should().Be("Flute");
        FluentActions.Invoking(() => Read(file, new MidiReadOptions { Track = 3 })).Should().Throw<ScoreException>()
            .Where(e => e.Failure == ScoreFailure.PartNotFound && e.Place == "track 3");
    }

    [Theory]
    [InlineData(60, 60)] // 60 of 480 ticks: an eighth of a quarter note, on the limit
    [InlineData(1, 1)]
    public void Read_SmallLegatoOverlap_IsCut(int overlap, int expectedCut)
    {
        byte[] track = new SmfBytes().On(0, 60).On(480 - overlap, 62).Off(overlap, 60).Off(480, 62).End();

        Passage passage = Read(SmfBytes.File(0, 480, track));

        passage.Notes[0].Length.Should().Be(new Fraction(480 - expectedCut, 480));
        passage.Notes[1].Onset.Should().Be(new Fraction(480 - expectedCut, 480));
    }

    [Theory]
    [InlineData(419, 61, "bar 1, beat 1+419/480")] // one tick over the limit
    [InlineData(0, 480, "bar 1, beat 1")] // a chord
    public void Read_NotesTogether_AreRefusedWithBarAndBeat(int wait, int overlap, string place)
    {
        byte[] track = new SmfBytes().On(0, 60).On(wait, 64).Off(overlap, 60).Off(480, 64).End();

        FluentActions.Invoking(() => Read(SmfBytes.File(0, 480, track))).Should().Throw<ScoreException>()
            .Where(e => e.Failure == ScoreFailure.Polyphony && e.Place == place && e.Reason.Contains("C4"));
    }

    [Fact]
    public void Read_NoteInsideAnother_IsRefused()
    {
        byte[] track = new SmfBytes().Note(50, 480 * 9).On(0, 60).On(440, 64).Off(20, 64).Off(20, 60).End();

        FluentActions.Invoking(() => Read(SmfBytes.File(0, 480, track))).Should().Throw<ScoreException>()
            .Where(e => e.Failure == ScoreFailure.Polyphony && e.Place == "bar 3, beat 2+11/12");
    }

    [Fact]
    public void Read_TwentyThousandNotes_IsReadAndOneMoreRefused()
    {
        Read(SmfBytes.File(0, 96, Many(20_000))).Notes.Should().HaveCount(20_000);
        FluentActions.Invoking(() => Read(SmfBytes.File(0, 96, Many(20_001)))).Should().Throw<ScoreException>()
            .Where(e => e.Failure == ScoreFailure.TooLarge && e.Reason.Contains("20001"));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Read_AHundredThousandNotes_IsRefusedWithinASecond(bool ended)
    {
        SmfBytes track = new();
        for (int index = 0; index < 100_000; index++)
        {
            track = ended ? track.Note(60 + (index % 12), 24) : track.On(24, 60);
        }

        byte[] file = SmfBytes.File(0, 96, track.End());
        long started = System.Diagnostics.Stopwatch.GetTimestamp();

        FluentActions.Invoking(() => Read(file)).Should().Throw<ScoreException>().Where(e => e.Failure == ScoreFailure.TooLarge);

        System.Diagnostics.Stopwatch.GetElapsedTime(started).Should().BeLessThan(TimeSpan.FromSeconds(1));
    }

    internal static Passage Read(byte[] file, MidiReadOptions? options = null) => MidiPassageReader.Read(SmfBytes.Open(file), options);

    private static byte[] Many(int count)
    {
        SmfBytes track = new();
        for (int index = 0; index < count; index++)
        {
            track = track.Note(60 + (index % 12), 24);
        }

        return track.End();
    }
}
