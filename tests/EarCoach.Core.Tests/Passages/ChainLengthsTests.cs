using CsCheck;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Passages;

public sealed class ChainLengthsTests
{
    [Fact]
    public void Of_AnyChain_GrowsByTurnsToItsEnd() =>
        Gen.Select(PassageGen.Marked, Gen.Enum<ChainUnit>(), Gen.Enum<ChainDirection>(), Gen.Int[-1, 23]).Sample((passage, unit, direction, from) =>
        {
            int? start = from < 0 ? null : from % passage.Notes.Length;
            NoteRange[] lengths = [.. ChainLengths.Of(passage, unit, direction, start)];
            int last = passage.Notes.Length - 1;
            int begin = start ?? (direction == ChainDirection.Backward ? last : 0);

            lengths[0].First.Should().BeLessThanOrEqualTo(begin);
            lengths[0].Last.Should().BeGreaterThanOrEqualTo(begin);
            lengths[^1].Should().Be(direction switch
            {
                ChainDirection.Forward => new NoteRange(begin, last),
                ChainDirection.Backward => new NoteRange(0, begin),
                _ => new NoteRange(0, last),
            });
            foreach ((NoteRange shorter, NoteRange longer) in lengths.Zip(lengths.Skip(1)))
            {
                longer.Count.Should().BeGreaterThan(shorter.Count);
                longer.First.Should().BeLessThanOrEqualTo(shorter.First);
                longer.Last.Should().BeGreaterThanOrEqualTo(shorter.Last);
            }
        });

    [Fact]
    public void Of_NotesForwardAndBackward_AddsOneNoteEachTime()
    {
        Passage passage = ExcerptTests.Quavers(4);

        ChainLengths.Of(passage, ChainUnit.Note, ChainDirection.Forward).Should().Equal([new(0, 0), new(0, 1), new(0, 2), new(0, 3)]);
        ChainLengths.Of(passage, ChainUnit.Note, ChainDirection.Backward).Should().Equal([new(3, 3), new(2, 3), new(1, 3), new(0, 3)]);
        ChainLengths.Of(passage, ChainUnit.Note, ChainDirection.Outward, 1).Should().Equal([new(1, 1), new(1, 2), new(0, 2), new(0, 3)]);
        ChainLengths.Of(passage, ChainUnit.Note, ChainDirection.Forward, 2).Should().Equal([new(2, 2), new(2, 3)]);
    }

    [Fact]
    public void Of_BeatsAndBars_AddsTheNotesOfOneMore()
    {
        Passage passage = ExcerptTests.Quavers(10);

        ChainLengths.Of(passage, ChainUnit.Beat, ChainDirection.Forward).Select(length => length.Last).Should().Equal(1, 3, 5, 7, 9);
        ChainLengths.Of(passage, ChainUnit.Bar, ChainDirection.Forward).Select(length => length.Last).Should().Equal(7, 9);
        Passage compound = passage with { Meters = [new MeterMark(0, 6, 8)] };
        ChainLengths.Of(compound, ChainUnit.Beat, ChainDirection.Backward).Select(length => length.First).Should().Equal(9, 6, 3, 0);
    }

    [Fact]
    public void Of_Ornaments_ComeAlongWithTheNoteAfterThem()
    {
        Passage passage = ExcerptTests.Quavers(5);
        passage = passage with { Notes = passage.Notes.SetItem(1, passage.Notes[1] with { Required = false }) };

        ChainLengths.Of(passage, ChainUnit.Note, ChainDirection.Forward).Select(length => length.Last).Should().Equal(0, 2, 3, 4);
        ChainLengths.Of(passage, ChainUnit.Note, ChainDirection.Backward).Select(length => length.First).Should().Equal(4, 3, 1, 0);
    }

    [Fact]
    public void Of_ANoteThatIsNot_IsRefused() =>
        FluentActions.Invoking(() => ChainLengths.Of(ExcerptTests.Quavers(4), ChainUnit.Note, ChainDirection.Forward, 4)).Should().Throw<ArgumentOutOfRangeException>();
}
