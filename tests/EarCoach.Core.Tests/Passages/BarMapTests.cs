using CsCheck;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Passages;

public sealed class BarMapTests
{
    [Theory]
    [InlineData(0, 1, "bar 0, beat 4")] // a crotchet of pickup in 4/4 is the fourth beat of the bar before the first
    [InlineData(1, 2, "bar 0, beat 4+1/2")]
    [InlineData(1, 1, "bar 1, beat 1")]
    [InlineData(6, 1, "bar 2, beat 2")]
    [InlineData(9, 1, "bar 3, beat 1")] // here 6/8 begins
    [InlineData(21, 2, "bar 3, beat 4")]
    [InlineData(12, 1, "bar 4, beat 1")]
    public void PositionOf_PickupAndChangeOfMetre_CountsAsAPlayerDoes(int numerator, int denominator, string position)
    {
        BarMap map = new([new MeterMark(0, 4, 4), new MeterMark(9, 6, 8)], pickup: 1, firstBarNumber: 1);

        map.PositionOf(new Fraction(numerator, denominator)).ToString().Should().Be(position);
    }

    [Fact]
    public void PositionOf_ABarCutShortByAMetreMark_TheNextBarBeginsAtTheMark()
    {
        BarMap map = new([new MeterMark(0, 4, 4), new MeterMark(6, 3, 4)], pickup: 0, firstBarNumber: 40);

        map.PositionOf(6).Should().Be(new BarPosition(42, 1));
        map.LengthOf(41).Should().Be(new Fraction(2, 1));
        map.StartOf(42).Should().Be(new Fraction(6, 1));
        map.MeterOf(42).Beats.Should().Be(3);
    }

    [Fact]
    public void PlaceOf_IsTheReverseOfPositionOf() => PassageGen.Plain.Sample(passage =>
    {
        BarMap map = new(passage);
        return passage.Notes.All(note => map.PlaceOf(map.PositionOf(note.Onset)) == note.Onset);
    });

    [Theory]
    [InlineData(1, 5)]
    [InlineData(1, 0)]
    [InlineData(0, 1)]
    public void PlaceOf_ABeatThatIsNot_IsRefused(int bar, int beat)
    {
        BarMap map = new([new MeterMark(0, 4, 4)], pickup: 0, firstBarNumber: 1);

        FluentActions.Invoking(() => map.PlaceOf(new BarPosition(bar, beat))).Should().Throw<ArgumentOutOfRangeException>();
    }
}
