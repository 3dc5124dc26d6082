using System.Globalization;
using CsCheck;
using EarCoach.Core.Passages;
using EarCoach.Scores.Typed;
using FluentAssertions;
using Xunit;

namespace EarCoach.Scores.Tests.Typed;

// Source of the pitches: scientific pitch notation (Acoustical Society of America): C4 is middle C, MIDI 60; A4 is 440 Hz, MIDI 69; the octave is
// the letter's, so B#3 is 60 and Cb4 is 59. Note values: common practice: a dot adds half, a triplet eighth is two thirds of an eighth.
public sealed class TypedPassageReaderTests
{
    [Fact]
    public void Read_PitchesAndValues_AreExact()
    {
        Passage read = TypedPassageReader.Read("C4/4 A4/8. f#3/16 Bb5/2 B#3/8t Cb4 Dx4 R/4 E♭4/1.. A0/64");

        read.Notes.Select(note => note.MidiPitch).Should().Equal(60, 69, 54, 82, 60, 59, 64, 63, 21);
        read.Notes.Select(note => note.Length).Should().Equal(
            1, new Fraction(3, 4), new Fraction(1, 4), 2, new Fraction(1, 3), new Fraction(1, 3), new Fraction(1, 3), 7, new Fraction(1, 16));
        read.Notes[7].Onset.Should().Be(read.Notes[6].End + 1, "a rest lies between");
        read.Notes[4].WrittenSpelling.Should().Be(new PitchSpelling('B', 1, 3));
        PassageRules.Problems(read).Should().BeEmpty();
    }

    [Fact]
    public void Read_SlursTiesAndPickup_AreUnderstood()
    {
        Passage read = TypedPassageReader.Read("G4/4 | (C5/4 D5 E5) F5= || F5/2 R/2 |", new TypedReadOptions { FirstBarNumber = 17 });

        read.Pickup.Should().Be(Fraction.One);
        read.Notes.Select(note => note.SlurredFromPrevious).Should().Equal(false, false, true, true, false);
        read.Notes[^1].Length.Should().Be(new Fraction(3, 1));
        BarMap bars = new(read);
        bars.PositionOf(read.Notes[1].Onset).Should().Be(new BarPosition(17, 1));
        bars.PositionOf(read.Notes[4].Onset).Should().Be(new BarPosition(17, 4));
    }

    [Theory]
    [InlineData("", "line 1, column 1", "no note yet")]
    [InlineData("C4", "line 1, column 1", "has no value")]
    [InlineData("C/4", "line 1, column 2", "has no octave")]
    [InlineData("C4/4\nD4/5", "line 2, column 4", "'5' is no note value")]
    [InlineData("C4/4 H4/4", "line 1, column 6", "H is not read")]
    [InlineData("C4/4 ? D4", "line 1, column 6", "'?' is not understood")]
    [InlineData("C####4/4", "line 1, column 1", "more than two sharps")]
    [InlineData("C44", "line 1, column 3", "more than one digit")]
    [InlineData("G9/4 G#9/4", "line 1, column 6", "outside the notes that exist")]
    [InlineData("C4/4 D4 E4 | F4/4 G4 A4 B4 | C5/4 D5 |", "line 1, column 38", "holds 2 quarter notes; 4/4 asks for 4 quarter notes")]
    [InlineData("C4/4 D4 E4 F4 G4 |", "line 1, column 18", "holds 5 quarter notes")]
    [InlineData("C4/4 D4 E4 F4 | G4/1 A4/4", "line 1, column 26", "Write the bar lines that are missing")]
    [InlineData("(C4/4 D4", "line 1, column 1", "does not end")]
    [InlineData("C4/4) D4", "line 1, column 5", "was not begun")]
    [InlineData("((C4/4 D4))", "line 1, column 2", "inside another")]
    [InlineData("C4/4= D4", "line 1, column 5", "one pitch")]
    [InlineData("C4/4=", "line 1, column 5", "leads to no note")]
    [InlineData("C4/4 R =", "line 1, column 8", "right behind a note")]
    [InlineData("C4/4....", "line 1, column 8", "at most three dots")]
    public void Read_AFault_IsNamedWithItsPlace(string text, string place, string reason)
    {
        ScoreException refusal = FluentActions.Invoking(() => TypedPassageReader.Read(text)).Should().Throw<ScoreException>().Which;
        refusal.Place.Should().Be(place);
        refusal.Reason.Should().Contain(reason);
    }

    [Theory]
    [InlineData(0, 4, "metre")]
    [InlineData(4, 3, "metre")]
    public void Read_AMetreThatIsNone_IsRefused(int beats, int beatType, string place) =>
        FluentActions.Invoking(() => TypedPassageReader.Read("C4/4", new TypedReadOptions { Beats = beats, BeatType = beatType }))
            .Should().Throw<ScoreException>().Which.Place.Should().Be(place);

    /// <summary>Whatever is typed on a keyboard is read or refused in words, and nothing else happens.</summary>
    [Fact]
    public void Read_AnyText_IsReadOrRefused() => Gen.Char["ABCDGHRabx#♭0123456789/.t()|=- \n?é"].Array[0, 40].Sample(
        signs =>
        {
            try
            {
                PassageRules.Problems(TypedPassageReader.Read(new string(signs))).Should().BeEmpty();
            }
            catch (ScoreException refusal)
            {
                refusal.Place.Should().StartWith("line ");
                refusal.Reason.Should().EndWith(".");
            }
        },
        iter: 100_000);

    /// <summary>What is written in this form reads back: pitch, onset and length exactly.</summary>
    [Fact]
    public void Read_WhatWasWrittenInThisForm_IsExact()
    {
        (string Text, Fraction Quarters)[] values =
        [
            ("1", 4), ("2.", 3), ("4", 1), ("8t", new Fraction(1, 3)), ("16", new Fraction(1, 4)), ("32..", new Fraction(7, 32)), ("64", new Fraction(1, 16)),
        ];
        Gen.Select(Gen.Int[12, 127], Gen.OneOf(values)).Array[1, 30].Sample(notes =>
        {
            string text = string.Join(' ', notes.Select(note => string.Create(CultureInfo.InvariantCulture, $"{PitchSpelling.FromMidi(note.Item1)}/{note.Item2.Text}")));
            Passage read = TypedPassageReader.Read(text);
            read.Notes.Select(note => (note.MidiPitch, note.Length)).Should().Equal(notes.Select(note => (note.Item1, note.Item2.Quarters)));
            read.End.Should().Be(notes.Aggregate(Fraction.Zero, (sum, note) => sum + note.Item2.Quarters));
        });
    }
}
