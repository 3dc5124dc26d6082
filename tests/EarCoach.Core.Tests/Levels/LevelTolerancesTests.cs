using EarCoach.Core.Judging;
using EarCoach.Core.Levels;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Levels;

public sealed class LevelTolerancesTests
{
    // An eighth note at 60 quarters a minute lasts 500 ms: shares of 35, 30, 25 and 20 % are 175, 150, 125 and 100 ms, all above the bounds.
    // A sixteenth at 100 lasts 150 ms: 52.5, 45, 37.5 and 30 ms; the lower bounds are 60, 50, 40 and 30.
    // A triplet eighth at 80 lasts 250 ms: 87.5, 75, 62.5 and 50 ms, within the bounds (rounded to whole, halves to even).
    [Theory]
    [InlineData(PlayerLevel.Beginner, 120, 60, 88)]
    [InlineData(PlayerLevel.Amateur, 100, 50, 75)]
    [InlineData(PlayerLevel.Advanced, 70, 40, 62)]
    [InlineData(PlayerLevel.Professional, 50, 30, 50)]
    public void Of_ShortestNote_SetsTheOnsetLimitWithinItsBounds(PlayerLevel level, double slow, double fast, double middle)
    {
        LevelTolerances.Of(level, Two(new Fraction(1, 2)), 60).OnsetMs.Should().Be(slow);
        LevelTolerances.Of(level, Two(new Fraction(1, 4)), 100).OnsetMs.Should().Be(fast);
        LevelTolerances.Of(level, Two(new Fraction(1, 3)), 80).OnsetMs.Should().Be(middle);
    }

    [Fact]
    public void Of_HigherLevels_AreNeverMoreLenient()
    {
        Tolerances[] levels = [.. Enum.GetValues<PlayerLevel>().Select(level => LevelTolerances.Of(level, Two(new Fraction(1, 2)), null))];

        levels.Select(t => t.Cents ?? double.PositiveInfinity).Should().BeInDescendingOrder();
        levels.Select(t => t.OnsetMs).Should().BeInDescendingOrder();
        levels.Select(t => t.CrackMs).Should().BeInDescendingOrder();
        levels.Select(t => t.TempoShare).Should().BeInDescendingOrder();
    }

    /// <summary>A grace note, which may be left out, is no reason to be stricter with the quarters: 20 % of 600 ms is 120 ms, above the bound.</summary>
    [Fact]
    public void Of_AnOrnament_DoesNotCountAsTheShortestNote()
    {
        Passage passage = Two(1) with { Tempi = [new TempoMark(Fraction.Zero, 100)] };
        Passage ornamented = passage with { Notes = passage.Notes.Insert(1, new PassageNote { MidiPitch = 61, Onset = new Fraction(7, 8), Length = new Fraction(1, 8), Required = false }) };

        LevelTolerances.Of(PlayerLevel.Professional, ornamented, null).OnsetMs.Should().Be(50);
    }

    private static Passage Two(Fraction shortest) => new()
    {
        Title = "two",
        Notes = [new PassageNote { MidiPitch = 60, Onset = 0, Length = 1 }, new PassageNote { MidiPitch = 62, Onset = 1, Length = shortest }],
    };
}
