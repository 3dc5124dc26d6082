using EarCoach.Core.Progress;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Progress;

public sealed class ReturnDatesTests
{
    private static readonly DateOnly _monday = new(2026, 11, 2);

    [Fact]
    public void Next_WithoutAColdTake_IsToday() => ReturnDates.Next([], _monday).Should().Be(_monday);

    // At least one night lies between (Simmons 2012: accuracy gains only after 24 hours); gaps grow while it holds: our choice.
    [Theory]
    [InlineData("m", 1)]
    [InlineData("c", 1)]
    [InlineData("cc", 2)]
    [InlineData("ccc", 4)]
    [InlineData("ccccccccc", 21)]
    [InlineData("cccm", 1)]
    [InlineData("mcc", 2)]
    public void Next_GrowsWhileItHolds_AndFallsBackWhenItFails(string takes, int days) =>
        ReturnDates.Next(Takes(takes), _monday).Should().Be(_monday.AddDays(days));

    [Fact]
    public void Next_BeforeAPerformance_StaysWithinAFifthOfTheTimeLeft()
    {
        ReturnDates.Next(Takes("ccccccccc"), _monday, _monday.AddDays(20)).Should().Be(_monday.AddDays(4));
        ReturnDates.Next(Takes("ccccccccc"), _monday, _monday.AddDays(2)).Should().Be(_monday.AddDays(1));
    }

    [Fact]
    public void Next_WhenOverdue_IsToday() => ReturnDates.Next(Takes("c"), _monday.AddDays(30)).Should().Be(_monday.AddDays(30));

    private static ColdTake[] Takes(string takes) => [.. takes.Select((take, i) => new ColdTake(_monday.AddDays(i - takes.Length + 1), take == 'c', take == 'c' ? 0 : 1))];
}
