using CsCheck;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Passages;

public sealed class ExcerptTests
{
    private static readonly Gen<(Passage Whole, NoteRange Range)> _cut =
        from passage in PassageGen.Marked
        from a in Gen.Int[0, passage.Notes.Length - 1]
        from b in Gen.Int[0, passage.Notes.Length - 1]
        select (passage, new NoteRange(Math.Min(a, b), Math.Max(a, b)));

    [Fact]
    public void OfNotes_AnyCut_KeepsEachNotesBarBeatTempoMetreAndPage() => _cut.Sample(cut =>
    {
        (Passage whole, NoteRange range) = cut;
        Passage part = Excerpt.OfNotes(whole, range);

        PassageRules.Problems(part).Should().BeEmpty();
        part.Notes.Should().HaveCount(range.Count);
        BarMap wholeBars = new(whole);
        BarMap partBars = new(part);
        for (int index = 0; index < range.Count; index++)
        {
            PassageNote before = whole.Notes[range.First + index];
            PassageNote after = part.Notes[index];
            after.Should().Be(before with { Onset = after.Onset, SlurredFromPrevious = before.SlurredFromPrevious && index > 0 });
            partBars.PositionOf(after.Onset).Should().Be(wholeBars.PositionOf(before.Onset));
            TempoAt(part, after.Onset).Should().Be(TempoAt(whole, before.Onset));
            WrittenPitch.Of(part, after).Should().Be(WrittenPitch.Of(whole, before));
        }
    });

    [Fact]
    public void OfNotes_AnExcerptOfAnExcerpt_IsTheExcerptOfTheWhole() => _cut.Sample(cut =>
    {
        (Passage whole, NoteRange range) = cut;
        Passage wider = Excerpt.OfNotes(whole, range with { First = 0 });

        Excerpt.OfNotes(wider, range).Notes.Should().Equal(Excerpt.OfNotes(whole, range).Notes);
    });

    [Fact]
    public void OfNotes_TheWholeFromItsStart_IsTheWhole() => PassageGen.Marked.Sample(passage =>
        Excerpt.OfNotes(passage, new NoteRange(0, passage.Notes.Length - 1)).Notes.Length == passage.Notes.Length);

    [Fact]
    public void OfBarsAndPlaces_TakeTheNotesThatBeginThere()
    {
        Passage passage = Quavers(24) with { FirstBarNumber = 17 };

        Excerpt.OfBars(passage, 18, 18).Notes.Select(note => note.MidiPitch).Should().Equal(68, 69, 70, 71, 72, 73, 74, 75);
        Passage places = Excerpt.OfPlaces(passage, new BarPosition(17, 4), new BarPosition(18, 2));
        places.Notes.Select(note => note.MidiPitch).Should().Equal(66, 67, 68, 69, 70);
        places.FirstBarNumber.Should().Be(17);
        places.Notes[0].Onset.Should().Be(new Fraction(3, 1));
        FluentActions.Invoking(() => Excerpt.OfBars(passage, 30, 31)).Should().Throw<ArgumentException>().WithMessage("No note begins in bars 30 to 31. The passage goes from bar 17, beat 1 to bar 19, beat 4+1/2.*");
        FluentActions.Invoking(() => Excerpt.OfNotes(passage, new NoteRange(3, 24))).Should().Throw<ArgumentOutOfRangeException>();
    }

    internal static Passage Quavers(int count) => new()
    {
        Title = "Quavers",
        Notes = [.. Enumerable.Range(0, count).Select(index => new PassageNote { MidiPitch = 60 + index, Onset = new Fraction(index, 2), Length = new Fraction(1, 2) })],
    };

    private static double TempoAt(Passage passage, Fraction at) => passage.Tempi.Last(mark => mark.At <= at).QuartersPerMinute;
}
