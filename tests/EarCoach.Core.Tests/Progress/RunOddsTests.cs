using EarCoach.Core.Progress;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Progress;

public sealed class RunOddsTests
{
    // Source: Feller, vol. 1, ch. XIII.7 (3rd ed.), success runs: the mean waiting time for five heads of a fair coin is 62 tosses, for ten
    // 2046; for five sixes of a die 9330, and by the same formula 42 for two.
    [Theory]
    [InlineData(1.0 / 2, 5, 62)]
    [InlineData(1.0 / 2, 10, 2046)]
    [InlineData(1.0 / 6, 2, 42)]
    [InlineData(1.0 / 6, 5, 9330)]
    public void ExpectedAttempts_CoinsAndDice_AreFellers(double chance, int run, double expected) =>
        RunOdds.ExpectedAttempts(chance, run).Should().BeApproximately(expected, 1e-6 * expected);

    // Source: Feller's mean and variance, checked by an independent program that solves the linear equations of the streak's Markov chain.
    [Theory]
    [InlineData(.6, 3, 9.074074, 49.1907)]
    [InlineData(.6, 9, 245.572575, 56822.8737)]
    [InlineData(.7, 3, 6.38484, 18.6379)]
    [InlineData(.7, 9, 79.269774, 5246.0365)]
    [InlineData(.8, 5, 10.258789, 44.984)]
    [InlineData(.85, 9, 22.116489, 243.8123)]
    [InlineData(.9, 3, 3.717421, 2.1457)]
    [InlineData(.9, 9, 15.811748, 85.8231)]
    [InlineData(.95, 10, 13.403651, 34.3272)]
    [InlineData(.99, 1, 1.010101, .0102)]
    public void ExpectedAttempts_AndSpread_AgreeWithTheMarkovChain(double chance, int run, double mean, double variance)
    {
        RunOdds.ExpectedAttempts(chance, run).Should().BeApproximately(mean, 1e-5 * mean);
        RunOdds.StandardDeviation(chance, run).Should().BeApproximately(Math.Sqrt(variance), (1e-4 * Math.Sqrt(variance)) + 3e-4);
    }

    // Arithmetic: a miss empties the set under way only, so sets add up: 3 x (1 - p^3) / (q p^3); 9 straight: (1 - p^9) / (q p^9).
    [Theory]
    [InlineData(.7, 3, 3, 19.2)]
    [InlineData(.8, 3, 3, 14.3)]
    [InlineData(.9, 3, 3, 11.2)]
    [InlineData(.95, 3, 3, 9.98)]
    [InlineData(.98, 3, 3, 9.37)]
    [InlineData(.7, 5, 3, 31.9)]
    [InlineData(.8, 3, 5, 30.8)]
    public void ExpectedAttemptsToSets_ASetAtATime_AddUp(double chance, int sets, int run, double expected) =>
        RunOdds.ExpectedAttemptsToSets(chance, sets, run).Should().BeApproximately(expected, 0.06);

    [Fact]
    public void ExpectedAttemptsLeft_AgreesWithFirstStepEquations()
    {
        // First-step analysis: e(k) = 1 + p e(k+1) + q e(0), e(run) = 0.
        const double chance = 0.73;
        for (int streak = 0; streak < 4; streak++)
        {
            double here = RunOdds.ExpectedAttemptsLeft(chance, 1, 4, streak);
            double next = streak == 3 ? 0 : RunOdds.ExpectedAttemptsLeft(chance, 1, 4, streak + 1);
            here.Should().BeApproximately(1 + (chance * next) + ((1 - chance) * RunOdds.ExpectedAttempts(chance, 4)), 1e-9);
        }
    }

    // Counted by hand for small cases: a run of 3 in 3 tosses 1/8; in 4 tosses 3/16 (HHHx, THHH: 2 + 1 of 16); in 10 tosses 520/1024
    // (1024 less the tribonacci number 504 of sequences without HHH; OEIS A000073).
    [Theory]
    [InlineData(.5, 3, 2, 0)]
    [InlineData(.5, 3, 3, 1.0 / 8)]
    [InlineData(.5, 3, 4, 3.0 / 16)]
    [InlineData(.5, 3, 10, 520.0 / 1024)]
    public void ChanceWithin_SmallCases_AreCounted(double chance, int run, int attempts, double expected) =>
        RunOdds.ChanceWithin(chance, run, attempts).Should().BeApproximately(expected, 1e-12);

    // Source: recursion on the streak's length (Hindawi J. Probability and Statistics 2015/482462), run by an independent program.
    [Theory]
    [InlineData(.7, 9, 50, .453)]
    [InlineData(.8, 9, 50, .819)]
    [InlineData(.6, 9, 50, .166)]
    public void ChanceWithin_NineRunningInFifty_IsTheRecursions(double chance, int run, int attempts, double expected) =>
        RunOdds.ChanceWithin(chance, run, attempts).Should().BeApproximately(expected, 6e-4);

    // From the same formula inverted by hand: n = 3 within 10 needs p >= .576, within 20 .433; n = 5: .806, .665; n = 9: .908 for 15.
    [Theory]
    [InlineData(3, 10, .576)]
    [InlineData(3, 20, .433)]
    [InlineData(5, 10, .806)]
    [InlineData(5, 20, .665)]
    [InlineData(9, 15, .908)]
    [InlineData(9, 60, .729)]
    public void LowestChanceFor_ABudget_InvertsTheExpectation(int run, double budget, double expected)
    {
        double lowest = RunOdds.LowestChanceFor(run, budget);
        lowest.Should().BeApproximately(expected, 6e-4);
        RunOdds.ExpectedAttempts(lowest, run).Should().BeApproximately(budget, 1e-6);
    }

    [Fact]
    public void ExpectedAttempts_AtTheEnds_IsPlain()
    {
        RunOdds.ExpectedAttempts(1, 9).Should().Be(9);
        RunOdds.ExpectedAttempts(0, 1).Should().Be(double.PositiveInfinity);
        FluentActions.Invoking(() => RunOdds.ExpectedAttempts(double.NaN, 3)).Should().Throw<ArgumentOutOfRangeException>();
    }
}
