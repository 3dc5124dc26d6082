using System.Text;
using EarCoach.Core.Passages;
using EarCoach.Scores.Abc;
using FluentAssertions;
using Xunit;

namespace EarCoach.Scores.Tests.Abc;

// Source of every rule checked here: the ABC music standard 2.1 (December 2011).
public sealed class AbcPassageReaderTests
{
    private const string Head = "X:1\nT:Study\nM:4/4\nL:1/4\nK:C\n";

    [Theory]
    [InlineData("C D, c c' [K:G]", "60/1 50/1 72/1 84/1")]
    [InlineData("C2 C/ C// C3/2 C/4 C", "60/2 60/1/2 60/1/4 60/3/2 60/1/4 60/1")]
    [InlineData("^F =F _B ^^C|", "66/1 65/1 70/1 62/1")]
    [InlineData("^F F f F|F", "66/1 66/1 78/1 66/1 65/1")] // to the end of the bar, in all octaves: section 11.3, from memory
    [InlineData("A>B A<B A>>B", "69/3/2 71/1/2 69/1/2 71/3/2 69/7/4 71/1/4")]
    [InlineData("(3ABc (5:4:5ABcde", "69/2/3 71/2/3 72/2/3 69/4/5 71/4/5 72/4/5 74/4/5 76/4/5")]
    [InlineData("^C2-|C2 C", "61/4 60/1")] // the tie carries its sharp over the bar line, and no further
    [InlineData("z C x C", "60/1 60/1")]
    public void Read_NotesOfALine_HavePitchAndLength(string music, string expected) =>
        string.Join(' ', Read(Head + music + "\n").Passage.Notes.Select(note => $"{note.MidiPitch}/{note.Length}")).Should().Be(expected);

    [Theory]
    [InlineData("C", 0)]
    [InlineData("Am", 0)]
    [InlineData("D", 2)]
    [InlineData("Bb", -2)]
    [InlineData("F#m", 3)]
    [InlineData("Ddor", 0)]
    [InlineData("D Mixolydian", 1)]
    [InlineData("E phr", 0)]
    [InlineData("F lyd", 0)]
    [InlineData("Bloc", 0)]
    [InlineData("G min clef=bass", -2)]
    [InlineData("none", 0)]
    [InlineData("Hp", 2)]
    public void Read_Keys_HaveTheirSharpsAndFlats(string key, int fifths) => Read($"X:1\nK:{key}\nc\n").Passage.KeyFifths.Should().Be(fifths);

    [Fact]
    public void Read_KeyWithAccidentalsOfItsOwn_AltersThoseLetters() =>
        Read("X:1\nL:1/4\nK:D exp _b ^f\nb f c\n").Passage.Notes.Select(note => note.MidiPitch).Should().Equal(82, 78, 72);

    [Theory]
    [InlineData("Q:1/4=120", 120)]
    [InlineData("Q:3/8=60", 90)]
    [InlineData("Q:\"Allegro\" 1/2=50", 100)]
    [InlineData("Q:120", 60)] // old form: so many unit notes, here eighths
    public void Read_Tempo_IsInQuartersAMinute(string field, double quarters) =>
        Read($"X:1\n{field}\nL:1/8\nK:C\nc\n").Passage.Tempi.Should().Equal(new TempoMark(0, quarters));

    [Theory]
    [InlineData("M:2/4", 1, 4)] // 0.5 is less than 0.75: sixteenths
    [InlineData("M:3/4", 1, 2)]
    [InlineData("M:C|", 1, 2)]
    [InlineData("", 1, 2)]
    public void Read_WithoutUnitLength_FollowsTheMetre(string metre, int numerator, int denominator) =>
        Read($"X:1\n{metre}{(metre.Length > 0 ? "\n" : string.Empty)}K:C\nc\n").Passage.Notes[0].Length.Should().Be(new Fraction(numerator, denominator));

    [Fact]
    public void Read_SlursMarksAndGraces_AreKept()
    {
        ScoreReading reading = Read(Head + "(.A {c}B) LHc !tenuto!d|(e f)\n");

        reading.Passage.Notes.Select(n => (n.MidiPitch, n.SlurredFromPrevious, n.Required)).Should().Equal(
            (69, false, true), (72, true, false), (71, true, true), (72, false, true), (74, false, true), (76, false, true), (77, true, true));
        reading.Passage.Notes[0].Articulations.Should().Be(Articulations.Staccato);
        reading.Passage.Notes[3].Articulations.Should().Be(Articulations.Accent | Articulations.Fermata);
        reading.Passage.Notes[4].TimingJudged.Should().BeFalse("it comes after a fermata");
        reading.Remarks.Should().ContainSingle().Which.Should().StartWith("line 6, column 6: a grace note may be");
    }

    [Fact]
    public void Read_PickupAndRepeatWithEndings_IsWrittenOut()
    {
        const string Tune = "X:1\nM:4/4\nL:1/4\nK:C\nG|:C4|[1 D4:|[2 E4|]\n";

        Passage passage = Read(Tune).Passage;

        passage.Pickup.Should().Be(Fraction.One);
        passage.Notes.Select(note => note.MidiPitch).Should().Equal(67, 60, 62, 60, 64);
        Read(Tune, new AbcReadOptions { Repeats = RepeatReading.AsPrinted }).Passage.Notes.Select(note => note.MidiPitch).Should().Equal(67, 60, 62, 64);
        new BarMap(passage).PositionOf(passage.Notes[1].Onset).Should().Be(new BarPosition(1, 1));
    }

    [Fact]
    public void Read_Transpose_MovesTheSoundAndSaysSo()
    {
        ScoreReading reading = Read("X:1\nL:1/4\nK:C transpose=-2\nc\n");

        reading.Passage.Notes[0].MidiPitch.Should().Be(70);
        reading.Passage.KeyFifths.Should().Be(-2);
        WrittenPitch.Of(reading.Passage, reading.Passage.Notes[0]).ToString().Should().Be("C5");
        reading.Remarks.Should().ContainSingle();
        Read("X:1\nL:1/4\nK:C clef=treble-8\nc\n").Passage.Notes[0].MidiPitch.Should().Be(60);
    }

    [Fact]
    public void Read_SeveralTunes_AreListedAndChosen()
    {
        const string Book = "% a book\nL:1/4\n\nX:1\nT:First\nK:C\nC\n\nX:7\nT:Second\nK:C\nD\n";
        using MemoryStream stream = new(Encoding.UTF8.GetBytes(Book));

        AbcPassageReader.Describe(stream).Should().Equal(new AbcTune(1, "First", 4), new AbcTune(7, "Second", 9));
        FluentActions.Invoking(() => Read(Book)).Should().Throw<ScoreException>().Where(e => e.Failure == ScoreFailure.PartNotChosen && e.Reason.Contains("X:7 'Second'"));
        Passage chosen = Read(Book, new AbcReadOptions { TuneNumber = 7 }).Passage;
        chosen.Notes.Should().ContainSingle().Which.Length.Should().Be(Fraction.One);
        FluentActions.Invoking(() => Read(Book, new AbcReadOptions { TuneNumber = 2 })).Should().Throw<ScoreException>().Where(e => e.Failure == ScoreFailure.PartNotFound);
    }

    [Theory]
    [InlineData("C D [CE]", 5, "Polyphony")]
    [InlineData("C & E", 3, "Polyphony")]
    [InlineData("C ? D", 3, "Unsupported")]
    [InlineData("C ^/2D", 4, "Unsupported")]
    [InlineData("C)", 2, "Malformed")]
    [InlineData("C !fermata D", 4, "Malformed")]
    [InlineData("C ^z", 4, "Malformed")]
    [InlineData("C0", 3, "Malformed")]
    [InlineData("C/0", 4, "Malformed")]
    [InlineData("C99999", 2, "Malformed")]
    [InlineData("> C", 2, "Malformed")]
    [InlineData("C : D", 3, "Malformed")]
    [InlineData("C }", 3, "Malformed")]
    [InlineData("(1CC", 3, "Malformed")]
    [InlineData("[U:T=!trill!] C", 4, "Unsupported")]
    public void Read_WhatIsNotUnderstood_IsNamedWithLineAndColumn(string music, int column, string failure)
    {
        ScoreException refusal = FluentActions.Invoking(() => Read(Head + music + "\n")).Should().Throw<ScoreException>().Which;

        (refusal.Place, refusal.Failure.ToString()).Should().Be(($"line 6, column {column}", failure));
        refusal.Reason.Should().EndWith(".");
    }

    [Theory]
    [InlineData("", ScoreFailure.NotThisFormat)]
    [InlineData("hello", ScoreFailure.NotThisFormat)]
    [InlineData("X:one\nK:C\nC\n", ScoreFailure.Malformed)]
    [InlineData("X:1\nK:C\n", ScoreFailure.NoNotes)]
    [InlineData("X:1\nK:C\nz4|\n", ScoreFailure.NoNotes)]
    [InlineData("X:1\nC D E\n", ScoreFailure.Malformed)]
    [InlineData("X:1\nM:4/5\nK:C\nC\n", ScoreFailure.Malformed)]
    [InlineData("X:1\nL:1/3\nK:C\nC\n", ScoreFailure.Malformed)]
    [InlineData("X:1\nQ:fast\nK:C\nC\n", ScoreFailure.Malformed)]
    [InlineData("X:1\nK:G# lyd\nC\n", ScoreFailure.Malformed)]
    [InlineData("X:1\nP:AABB\nK:C\nC\n", ScoreFailure.Unsupported)]
    [InlineData("X:1\nV:1\nV:2\nK:C\nC\n", ScoreFailure.Unsupported)]
    [InlineData("X:1\nK:C\n!D.C.!C|\n", ScoreFailure.Unsupported)]
    [InlineData("X:1\nK:C\n(C D\n", ScoreFailure.Malformed)]
    public void Read_BrokenTune_IsRefused(string text, ScoreFailure failure) =>
        FluentActions.Invoking(() => Read(text)).Should().Throw<ScoreException>().Where(e => e.Failure == failure && e.Place.Contains("line"));

    [Fact]
    public void Read_NothingButLaterEndings_IsRefused() =>
        FluentActions.Invoking(() => Read("X:1\nK:C\n[2 C D|]\n")).Should().Throw<ScoreException>().Where(e => e.Place == "tune X:1" && e.Failure == ScoreFailure.Malformed);

    internal static ScoreReading Read(string text, AbcReadOptions? options = null)
    {
        using MemoryStream stream = new(Encoding.UTF8.GetBytes(text));
        return AbcPassageReader.Read(stream, options);
    }
}
