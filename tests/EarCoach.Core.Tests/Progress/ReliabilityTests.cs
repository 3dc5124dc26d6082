using EarCoach.Core.Progress;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Progress;

public sealed class ReliabilityTests
{
    // Closed forms for n of n with a uniform prior (Beta(n + 1, 1)): mean (n + 1) / (n + 2), Laplace's rule of succession;
    // P(p > x) = 1 - x^(n + 1); 5 % quantile 0.05^(1 / (n + 1)). Clopper-Pearson for n of n: 0.05^(1 / n).
    [Theory]
    [InlineData(3)]
    [InlineData(5)]
    [InlineData(9)]
    [InlineData(10)]
    [InlineData(20)]
    [InlineData(29)]
    [InlineData(59)]
    public void AllClean_HasTheClosedForms(int n)
    {
        Reliability reliability = new(n, 0);
        reliability.Mean.Should().BeApproximately((n + 1.0) / (n + 2), 1e-12);
        foreach (double x in new[] { .8, .9, .95 })
        {
            reliability.ProbabilityAbove(x).Should().BeApproximately(1 - Math.Pow(x, n + 1), 1e-9);
        }

        reliability.Quantile(.05).Should().BeApproximately(Math.Pow(.05, 1.0 / (n + 1)), 1e-9);
        Reliability.ExactLowerLimit(n, n, .95).Should().BeApproximately(Math.Pow(.05, 1.0 / n), 1e-9);
    }

    // Beta(10, 2): P(p > .9) = 1 - 11 x .9^10 + 10 x .9^11 = .302643...; Beta(10, 4): P(p > .9) = .0342 (sum of the binomial tail
    // P(X >= 10), X ~ Bin(13, .9), taken from 1): arithmetic of the binomial distribution (Abramowitz and Stegun 26.5.24).
    [Theory]
    [InlineData(9, 1, .833333, .302643)]
    [InlineData(9, 3, .714286, .034162)]
    public void WithMisses_TheBinomialTailSaysHowSure(int clean, int missed, double mean, double above)
    {
        Reliability reliability = new(clean, missed);
        int n = clean + missed + 1;
        double tail = Enumerable.Range(clean + 1, n - clean).Sum(k => Binomial(n, k) * Math.Pow(.9, k) * Math.Pow(.1, n - k));
        reliability.Mean.Should().BeApproximately(mean, 1e-6);
        reliability.ProbabilityAbove(.9).Should().BeApproximately(1 - tail, 1e-9);
        reliability.ProbabilityAbove(.9).Should().BeApproximately(above, 5e-6);
    }

    // Source: Clopper and Pearson's definition itself: at the lower limit the chance of so many clean attempts or more is 5 %.
    [Theory]
    [InlineData(7, 10)]
    [InlineData(18, 20)]
    [InlineData(1, 6)]
    public void ExactLowerLimit_LeavesFivePercentAbove(int clean, int attempts)
    {
        double limit = Reliability.ExactLowerLimit(clean, attempts, .95);
        double tail = Enumerable.Range(clean, attempts - clean + 1).Sum(k => Binomial(attempts, k) * Math.Pow(limit, k) * Math.Pow(1 - limit, attempts - k));
        tail.Should().BeApproximately(.05, 1e-9);
    }

    // Needed n of n for 95 % confidence (exact): .8 -> 14, .9 -> 29, .95 -> 59: the "59 for 95/95" of quality control (n >= ln .05 / ln x).
    [Theory]
    [InlineData(.8, 14)]
    [InlineData(.9, 29)]
    [InlineData(.95, 59)]
    public void ExactLowerLimit_NeedsSoManyCleanAttempts(double chance, int needed)
    {
        Reliability.ExactLowerLimit(needed, needed, .95).Should().BeGreaterThanOrEqualTo(chance);
        Reliability.ExactLowerLimit(needed - 1, needed - 1, .95).Should().BeLessThan(chance);
    }

    [Fact]
    public void OfAttempts_OlderOnesWeighHalfAfterTheHalfLife()
    {
        Reliability reliability = Reliability.OfAttempts([false, true, true], halfLife: 1);
        reliability.Missed.Should().BeApproximately(0.25, 1e-12);
        reliability.Clean.Should().BeApproximately(1.5, 1e-12);
        Reliability.OfAttempts([true, false, true]).Should().Be(new Reliability(2, 1));
    }

    private static double Binomial(int n, int k) => Enumerable.Range(1, k).Aggregate(1.0, (product, i) => product * (n - k + i) / i);
}
