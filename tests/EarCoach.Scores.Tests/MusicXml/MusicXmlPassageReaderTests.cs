using EarCoach.Core.Passages;
using EarCoach.Scores.MusicXml;
using FluentAssertions;
using Xunit;
using static EarCoach.Scores.Tests.MusicXml.XmlScore;

namespace EarCoach.Scores.Tests.MusicXml;

// Source of every rule checked here: MusicXML 4.0, W3C Music Notation Community Group.
public sealed class MusicXmlPassageReaderTests
{
    [Fact]
    public void Read_NotesTiesSlursAndMarks_AreThoseOfThePage()
    {
        Passage passage = Read(Of(
            Attributes
            + Note("C4", 4, Notations("<slur type=\"start\" number=\"2\"/><articulations><staccato/><accent/></articulations>"))
            + Note("Eb4", 2, Notations("<slur type=\"stop\" number=\"2\"/><slur type=\"start\"/>"))
            + Note("F#4", 10, "<tie type=\"start\"/>" + Notations("<tied type=\"start\"/>")).Replace("<voice>1</voice><tie type=\"start\"/>", "<tie type=\"start\"/><voice>1</voice>"),
            Note("F#4", 2, "<tie type=\"stop\"/>" + Notations("<slur type=\"stop\"/><fermata/>")) + Note("G4", 2) + Rest(4) + Note("A4", 8))).Passage;

        passage.Title.Should().Be("Study");
        passage.InstrumentId.Should().Be("oboe");
        passage.Notes.Select(n => (n.MidiPitch, n.Onset, n.Length, n.SlurredFromPrevious)).Should().Equal(
            (60, 0, 1, false),
            (63, 1, new Fraction(1, 2), true),
            (66, new Fraction(3, 2), 3, true),
            (67, new Fraction(9, 2), new Fraction(1, 2), false),
            (69, 6, 2, false));
        passage.Notes[0].Articulations.Should().Be(Articulations.Staccato | Articulations.Accent);
        passage.Notes[2].Articulations.Should().Be(Articulations.Fermata);
        passage.Notes.Select(n => n.TimingJudged).Should().Equal(true, true, true, false, true);
        passage.Notes[1].WrittenSpelling.Should().Be(new PitchSpelling('E', -1, 4));
    }

    [Fact]
    public void Read_Transpose_IsAddedToTheWrittenPitchAndKey()
    {
        const string HornInEFlat = "<attributes><divisions>4</divisions><key><fifths>0</fifths></key><transpose><diatonic>-5</diatonic><chromatic>-9</chromatic></transpose></attributes>";
        const string TrumpetInD = "<attributes><transpose><diatonic>1</diatonic><chromatic>2</chromatic></transpose></attributes>";

        Passage passage = Read(Document(Part("P2", HornInEFlat + Note("C5", 4) + TrumpetInD + Note("C5", 12)))).Passage;

        passage.Notes.Select(note => note.MidiPitch).Should().Equal(63, 74);
        passage.KeyFifths.Should().Be(-3);
        passage.InstrumentId.Should().Be("horn-f");
        passage.Transpositions.Should().Equal(
            new TranspositionMark(0, new Transposition(-5, -9)), new TranspositionMark(1, new Transposition(1, 2)));
        passage.Notes.Select(note => WrittenPitch.Of(passage, note).ToString()).Should().Equal("C5", "C5");
    }

    [Fact]
    public void Read_OctaveChange_IsAddedBesides()
    {
        const string TenorSaxophone = "<attributes><divisions>4</divisions><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic><octave-change>-1</octave-change></transpose></attributes>";

        Read(Of(TenorSaxophone + Note("C5", 16))).Passage.Notes[0].MidiPitch.Should().Be(58);
    }

    [Fact]
    public void Read_Pickup_MetreAndBarNumbers_AreThoseOfThePage()
    {
        byte[] document = Of(Attributes + Note("G4", 4), Note("C5", 16), "<attributes><time><beats>6</beats><beat-type>8</beat-type></time></attributes>" + Note("C5", 12), Note("C5", 12));
        byte[] numbered = System.Text.Encoding.UTF8.GetBytes(System.Text.Encoding.UTF8.GetString(document)
            .Replace("number=\"1\"", "number=\"0\" implicit=\"yes\"").Replace("number=\"2\"", "number=\"41\"").Replace("number=\"3\"", "number=\"42\"").Replace("number=\"4\"", "number=\"43\""));

        ScoreReading reading = Read(numbered);

        reading.Remarks.Should().BeEmpty();
        reading.Passage.Pickup.Should().Be(Fraction.One);
        reading.Passage.FirstBarNumber.Should().Be(41);
        reading.Passage.Meters.Should().Equal(new MeterMark(0, 4, 4), new MeterMark(5, 6, 8));
        BarMap bars = new(reading.Passage);
        reading.Passage.Notes.Select(note => bars.PositionOf(note.Onset).ToString())
            .Should().Equal("bar 40, beat 4", "bar 41, beat 1", "bar 42, beat 1", "bar 43, beat 1");
    }

    [Fact]
    public void Read_Tempo_IsInQuartersAMinute()
    {
        const string DottedCrotchet = "<direction><direction-type><metronome><beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>60</per-minute></metronome></direction-type></direction>";
        const string Sound = "<direction><direction-type><words>Allegro</words></direction-type><sound tempo=\"132.5\"/></direction>";

        Passage passage = Read(Of(Attributes + DottedCrotchet + Note("C4", 8) + Sound + Note("C4", 8))).Passage;

        passage.Tempi.Should().Equal(new TempoMark(0, 90), new TempoMark(2, 132.5));
    }

    [Fact]
    public void Read_RepeatWithTwoVoltas_IsWrittenOutOrAsPrinted()
    {
        const string First = "<barline location=\"left\"><ending number=\"1\" type=\"start\"/></barline>";
        const string FirstEnd = "<barline location=\"right\"><ending number=\"1\" type=\"stop\"/><repeat direction=\"backward\"/></barline>";
        const string Second = "<barline location=\"left\"><ending number=\"2\" type=\"start\"/></barline>";
        const string SecondEnd = "<barline location=\"right\"><ending number=\"2\" type=\"discontinue\"/></barline>";
        byte[] document = Of(
            Attributes + Note("C4", 16),
            "<barline location=\"left\"><repeat direction=\"forward\"/></barline>" + Note("D4", 16),
            First + Note("E4", 16) + FirstEnd,
            Second + Note("F4", 16) + SecondEnd,
            Note("G4", 16));

        Pitches(Read(document)).Should().Equal(60, 62, 64, 62, 65, 67);
        Pitches(Read(document, new MusicXmlReadOptions { Repeats = RepeatReading.AsPrinted })).Should().Equal(60, 62, 64, 65, 67);
        Read(document).Remarks.Should().ContainSingle().Which.Should().StartWith("measure 2: from here on bars are counted on from 4");
    }

    [Theory]
    [InlineData("<repeat direction=\"backward\" times=\"3\"/>", 3)]
    [InlineData("<repeat direction=\"backward\"/>", 2)]
    public void Read_PlainRepeat_IsPlayedAsOftenAsItSays(string repeat, int times) =>
        Pitches(Read(Of(Attributes + Note("C4", 16) + $"<barline>{repeat}</barline>", Note("D4", 16)))).Should().Equal([.. Enumerable.Repeat(60, times), 62]);

    [Fact]
    public void Read_AJump_IsRefusedUnlessReadAsPrinted()
    {
        byte[] document = Of(Attributes + Note("C4", 16) + "<direction><direction-type><words>D.C.</words></direction-type><sound dacapo=\"yes\"/></direction>");

        Refusal(document).Failure.Should().Be(ScoreFailure.Unsupported);
        Refusal(document).Message.Should().Contain("dacapo").And.Contain("part P1, measure 1, line");
        Read(document, new MusicXmlReadOptions { Repeats = RepeatReading.AsPrinted }).Passage.Notes.Should().ContainSingle();
    }

    [Fact]
    public void Read_GraceNotes_MayBeLeftOutAndTakeTheirTimeFromTheNoteBefore()
    {
        byte[] document = Of(
            Attributes + Note("C4", 8) + Note("D4", 0, Notations("<slur type=\"start\"/>"), before: "<grace/>") + Note("E4", 0, before: "<grace slash=\"yes\"/>")
            + Note("F4", 8, Notations("<slur type=\"stop\"/>")));

        ScoreReading reading = Read(document);

        reading.Passage.Notes.Select(n => (n.MidiPitch, n.Onset, n.Required, n.TimingJudged, n.SlurredFromPrevious)).Should().Equal(
            (60, 0, true, true, false), (62, new Fraction(7, 4), false, false, false), (64, new Fraction(15, 8), false, false, true), (65, 2, true, true, false));
        reading.Passage.Notes[0].End.Should().Be(new Fraction(7, 4));
        reading.Remarks.Should().ContainSingle().Which.Should().Contain("2 grace notes may be played or left out");
        Pitches(Read(document, new MusicXmlReadOptions { GraceNotes = GraceNoteReading.Dropped })).Should().Equal(60, 65);
    }

    [Fact]
    public void Read_Ritardando_FreesTheTimeUntilTheTempoReturns()
    {
        const string Slower = "<direction><direction-type><words>rit.</words></direction-type></direction>";
        const string Again = "<direction><direction-type><words>a tempo</words></direction-type></direction>";

        Read(Of(Attributes + Note("C4", 4) + Slower + Note("C4", 4) + Note("C4", 4) + Again + Note("C4", 4))).Passage
            .Notes.Select(note => note.TimingJudged).Should().Equal(true, false, false, true);
    }

    [Fact]
    public void Read_TwoVoicesAndTwoParts_AreListedAndChosen()
    {
        string twoVoices = Attributes + Note("C5", 16) + "<backup><duration>16</duration></backup>" + Note("C4", 8, voice: "2") + Note("D4", 8, voice: "2");
        byte[] document = Document(Part("P1", twoVoices), Part("P2", Attributes + Note("G3", 16)));
        using MemoryStream stream = new(document);

        MusicXmlPassageReader.Describe(stream).Voices.Should().Equal(
            new MusicXmlVoice("P1", "Oboe", "1", 1, 72, 72), new MusicXmlVoice("P1", "Oboe", "2", 2, 60, 62), new MusicXmlVoice("P2", "Horn in E flat", "1", 1, 55, 55));
        Refusal(document).Failure.Should().Be(ScoreFailure.PartNotChosen);
        Refusal(document).Reason.Should().Contain("part P1 'Oboe', voice 2, 2 notes, C4 to D4 sounding");
        Pitches(Read(document, new MusicXmlReadOptions { PartId = "P1", Voice = "2" })).Should().Equal(60, 62);
        Pitches(Read(document, new MusicXmlReadOptions { PartId = "P2" })).Should().Equal(55);
        Refusal(document, new MusicXmlReadOptions { PartId = "P3" }).Failure.Should().Be(ScoreFailure.PartNotFound);
    }

    [Fact]
    public void Read_AChord_IsRefusedWithBarAndBeat()
    {
        ScoreException refusal = Refusal(Of(Attributes + Note("C4", 16), Note("C4", 8) + Note("E4", 8) + Note("G4", 8, before: "<chord/>")));

        refusal.Failure.Should().Be(ScoreFailure.Polyphony);
        refusal.Place.Should().Be("part P1, measure 2, line 8, beat 3");
    }

    [Fact]
    public void Read_MicrotonesAndDrums_AreRefusedOnlyWhereTheyAreChosen()
    {
        string quarterTone = Note("C4", 16).Replace("<alter>0</alter>", "<alter>0.5</alter>");
        byte[] document = Document(Part("P1", Attributes + Note("C4", 16)), Part("P2", Attributes + quarterTone));

        Pitches(Read(document, new MusicXmlReadOptions { PartId = "P1" })).Should().Equal(60);
        Refusal(document, new MusicXmlReadOptions { PartId = "P2" }).Reason.Should().Contain("microtone");
        Refusal(Of(Attributes + "<note><unpitched/><duration>16</duration></note>")).Reason.Should().Contain("percussion");
    }

    [Fact]
    public void Read_AShortBarInTheMiddle_KeepsTheBarLinesWhereTheyStand()
    {
        Passage passage = Read(Of(Attributes + Note("C4", 16), Note("D4", 8), Note("E4", 16), Note("F4", 16))).Passage;

        BarMap bars = new(passage);
        passage.Notes.Select(note => bars.PositionOf(note.Onset).ToString()).Should().Equal("bar 1, beat 1", "bar 2, beat 1", "bar 3, beat 1", "bar 4, beat 1");
    }

    private static IEnumerable<int> Pitches(ScoreReading reading) => reading.Passage.Notes.Select(note => note.MidiPitch);

    private static ScoreException Refusal(byte[] document, MusicXmlReadOptions? options = null) =>
        FluentActions.Invoking(() => Read(document, options)).Should().Throw<ScoreException>().Which;
}
