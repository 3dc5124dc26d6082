using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using FluentAssertions;
using Xunit;

namespace EarCoach.Engine.Tests;

public sealed class LibrarySearchTests
{
    private static readonly LibraryPassage _passage = new()
    {
        Id = Guid.NewGuid(),
        Passage = new Passage { Title = "Valley call", InstrumentId = "horn-f", Notes = [new PassageNote { MidiPitch = 60, Onset = 0, Length = 1 }] },
        AddedAt = default,
        Tags = ["Audition", "second page"],
    };

    [Theory]
    [InlineData(null, true)]
    [InlineData("  ", true)]
    [InlineData("valley", true)]
    [InlineData("HORN audit", true)]
    [InlineData("page call", true)]
    [InlineData("valley trumpet", false)]
    public void Matches_EveryWordInTitleTagOrInstrument(string? search, bool expected) => LibrarySearch.Matches(_passage, search).Should().Be(expected);

    [Fact]
    public void Strictness_OfAPassage_StandsInPlaceOfTheLevels()
    {
        Tolerances level = new() { Cents = 40, OnsetMs = 80, TempoShare = 0.08, CrackMs = 60 };

        new PassageStrictness(Cents: 10).Over(level).Should().Be(level with { Cents = 10 });
        new PassageStrictness(SemitoneOnly: true, OnsetMs: 30).Over(level).Should().Be(level with { Cents = null, OnsetMs = 30 });
        new PassageStrictness().Over(level).Should().Be(level);
        new PassageStrictness(Cents: 2, OnsetMs: 900, TempoShare: 0.9).Problems().Should().HaveCount(3);
    }
}
