using CsCheck;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Passages;

// Source of the intervals: published transposition tables (studystack.com/flashcard-697185, classical set: horn in F a perfect fifth lower);
// crooks and the old bass clef: common practice (a horn in F in bass clef of the old notation sounds a perfect fourth higher than written).
public sealed class PartInstrumentTests
{
    private static readonly Instrument _horn = InstrumentTable.ById("horn-f")!;
    private static readonly Passage _written = new()
    {
        Title = "Invented",
        KeyFifths = 0,
        Notes = [.. new[] { 60, 64, 67, 72 }.Select((pitch, index) => new PassageNote { MidiPitch = pitch, Onset = index, Length = 1 })],
    };

    [Fact]
    public void KeepWritten_ForAHornInF_SoundsAFifthLower_AndIsPrintedTheSame()
    {
        Passage read = PartInstrument.KeepWritten(_written, _horn);

        read.Notes.Select(note => note.MidiPitch).Should().Equal(53, 57, 60, 65);
        read.Notes.Select(note => WrittenPitch.Of(read, note).ToString()).Should().Equal("C4", "E4", "G4", "C5");
        read.KeyFifths.Should().Be(-1); // C major written for a horn in F sounds in F major: one flat
        read.Transpositions.Should().BeEmpty();
    }

    [Fact]
    public void KeepWritten_ForAHornInEFlat_SoundsASixthLower()
    {
        Passage read = PartInstrument.KeepWritten(_written, _horn, HornCrooks.All.First(crook => crook.Id == "eb").Transposition);

        read.Notes.Select(note => note.MidiPitch).Should().Equal(51, 55, 58, 63);
        read.Notes.Select(note => WrittenPitch.Of(read, note).ToString()).Should().Equal("C4", "E4", "G4", "C5");
        read.KeyFifths.Should().Be(-3); // E flat major
    }

    [Fact]
    public void KeepSounding_ForAHornInF_IsPrintedAFifthHigher()
    {
        Passage shown = PartInstrument.KeepSounding(_written, _horn);

        shown.Notes.Should().Equal(_written.Notes);
        shown.Notes.Select(note => WrittenPitch.Of(shown, note).ToString()).Should().Equal("G4", "B4", "D5", "G5");
    }

    [Fact]
    public void KeepWrittenAndKeepSounding_AreTheSameWayThereAndBack() => PassageGen.Plain.Sample(passage =>
    {
        Passage sounding = passage with { InstrumentId = null, Transpositions = [] };
        Passage shown = PartInstrument.KeepSounding(sounding, _horn);
        Passage read = PartInstrument.KeepWritten(shown, _horn);
        read.Notes.Select(note => note.MidiPitch).Should().Equal(passage.Notes.Select(note => note.MidiPitch));
    });

    [Fact]
    public void OfNotes_InBassClefOfTheOldNotation_SoundAFourthHigher_AndTheNextOnesAsBefore()
    {
        Passage part = PartInstrument.KeepWritten(_written, _horn);
        Transposition old = HornCrooks.All.First(crook => crook.Id == "f").OldBassClef;

        Passage changed = PartInstrument.OfNotes(part, new NoteRange(1, 2), old, Clef.Bass, keepWritten: true);

        changed.Notes.Select(note => note.MidiPitch).Should().Equal(53, 64 + 5, 67 + 5, 65);
        changed.Notes.Select(note => WrittenPitch.Of(changed, note).ToString()).Should().Equal("C4", "E4", "G4", "C5");
        changed.Transpositions.Select(mark => (mark.At, mark.Clef)).Should().Equal((new Fraction(1, 1), (Clef?)Clef.Bass), (new Fraction(3, 1), null));
        PassageRules.Problems(changed).Should().BeEmpty();
        PartInstrument.OfNotes(changed, new NoteRange(1, 2), part.Transpositions.IsEmpty ? _horn.Transposition : default, null, keepWritten: true)
            .Transpositions.Should().BeEmpty("nothing is left that differs from the instrument's own");
    }

    [Fact]
    public void OfNotes_ThatAreNotThere_AreRefused() =>
        FluentActions.Invoking(() => PartInstrument.OfNotes(_written, new NoteRange(2, 9), default, null, keepWritten: false))
            .Should().Throw<ArgumentOutOfRangeException>().WithMessage("*notes 1 to 4*");

    [Fact]
    public void KeepWritten_OutOfAllRange_NamesTheNote() =>
        FluentActions.Invoking(() => PartInstrument.KeepWritten(_written with { Notes = [_written.Notes[0] with { MidiPitch = 5 }] }, _horn))
            .Should().Throw<ArgumentException>().WithMessage("bar 1, beat 1: F-1 would sound at MIDI -2*");
}
