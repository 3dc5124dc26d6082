using System.Numerics;
using EarCoach.Core.Judging;
using EarCoach.Core.Tests.Listening;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>Sums up to each step give what adding up each stretch by itself gives.</summary>
public sealed class RunningSumsTests
{
    private const double Rounding = 1e-6;
    private static readonly Complex[] _course = [.. Tones.Noise(80, 0.05, Playing.RateHz).Chunk(2).Where(pair => pair.Length == 2).Select(pair => new Complex(pair[0], pair[1]))];

    [Theory]
    [InlineData(0, 1)]
    [InlineData(3, 41)]
    [InlineData(900, 10)]
    public void AStretch_IsWhatItsOwnStepsAddUpTo(int first, int count)
    {
        var sums = new RunningSums(_course);
        Complex[] stretch = _course[first..(first + count)];
        TonePart part = sums.Part(first, count);
        TonePart direct = TonePart.Of(stretch);
        (part.Mean - direct.Mean).Magnitude.Should().BeLessThan(Rounding);
        part.Power.Should().BeApproximately(direct.Power, Rounding);

        int centre = first + 7;
        (Complex one, Complex two) = sums.Moments(first, count, centre);
        Complex Sum(Func<double, double> of) => stretch.Select((amplitude, i) => amplitude * of(first + i - centre)).Aggregate((a, b) => a + b);
        (one - Sum(away => away)).Magnitude.Should().BeLessThan(Rounding);
        (two - Sum(away => away * away)).Magnitude.Should().BeLessThan(Rounding * count);
    }

    // Samples that a browser lost are silence in the middle of a note.
    [Fact]
    public void SilenceAfterLoudSound_HasNoPowerLessThanNone()
    {
        var sums = new RunningSums([.. _course, .. new Complex[50]]);
        Enumerable.Range(_course.Length, 40).Select(first => sums.Part(first, 10).Power).Should().OnlyContain(power => power >= 0 && power < Rounding);
    }
}
