using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Passages;

public sealed class NoteRelaxationTests
{
    private static readonly Passage _passage = new()
    {
        Title = "Invented",
        Notes = [.. Enumerable.Range(0, 4).Select(index => new PassageNote { MidiPitch = 60 + index, Onset = index, Length = 1 })],
    };

    [Fact]
    public void WithTiming_ChangesThoseNotesAlone_AndCanBeTakenBack()
    {
        Passage free = NoteRelaxation.WithTiming(_passage, new NoteRange(1, 2), isJudged: false);

        free.Notes.Select(note => note.TimingJudged).Should().Equal(true, false, false, true);
        NoteRelaxation.WithTiming(free, new NoteRange(0, 3), isJudged: true).Notes.Should().Equal(_passage.Notes);
    }

    [Fact]
    public void WithRequired_LeavesAtLeastOneNoteToPlay()
    {
        NoteRelaxation.WithRequired(_passage, new NoteRange(0, 2), isRequired: false).Notes.Select(note => note.Required).Should().Equal(false, false, false, true);
        FluentActions.Invoking(() => NoteRelaxation.WithRequired(_passage, new NoteRange(0, 3), isRequired: false))
            .Should().Throw<ArgumentException>().WithMessage("*at least one note that must be played*");
    }

    [Theory]
    [InlineData(-1, 0)]
    [InlineData(2, 1)]
    [InlineData(0, 4)]
    public void NotesThatAreNotThere_AreRefused(int first, int last) =>
        FluentActions.Invoking(() => NoteRelaxation.WithTiming(_passage, new NoteRange(first, last), isJudged: false)).Should().Throw<ArgumentOutOfRangeException>();

    // Source: common practice: the lowest note of a violin is its open G string, G3 (MIDI 55).
    [Fact]
    public void PlayableRange_OfAViolin_BeginsAtItsLowestString()
    {
        Instrument violin = InstrumentTable.ById("violin")!;
        Passage passage = _passage with { Notes = [.. new[] { 54, 55, 60 }.Select((pitch, index) => new PassageNote { MidiPitch = pitch, Onset = index, Length = 1 })] };

        PlayableRange.Outside(passage, violin).Should().Equal(0);
        PlayableRange.IsBeyondAll(54, violin).Should().BeTrue();
    }
}
