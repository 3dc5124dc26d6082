namespace EarCoach.Core.Progress;

/// <summary>How many attempts a run of clean ones takes, when each is clean with the same chance and none depends on another.</summary>
/// <remarks>Source: W. Feller, An Introduction to Probability Theory and Its Applications, vol. 1, ch. XIII.7 (success runs). Players get better and
/// tired, so these are orders of magnitude, not promises.</remarks>
public static class RunOdds
{
    /// <summary>Expected attempts up to and including the end of the first run.</summary>
    /// <param name="chance">The chance that an attempt is clean, 0 to 1.</param>
    /// <param name="run">Length of the run, at least 1.</param>
    /// <returns>Infinite where the chance is 0.</returns>
    public static double ExpectedAttempts(double chance, int run)
    {
        Check(chance, run);
        if (chance == 1)
        {
            return run;
        }

        double power = Math.Pow(chance, run);
        return power == 0 ? double.PositiveInfinity : (1 - power) / ((1 - chance) * power);
    }

    /// <summary>Standard deviation of that number of attempts.</summary>
    /// <param name="chance">The chance that an attempt is clean, 0 to 1.</param>
    /// <param name="run">Length of the run, at least 1.</param>
    public static double StandardDeviation(double chance, int run)
    {
        Check(chance, run);
        if (chance == 1)
        {
            return 0;
        }

        double miss = 1 - chance;
        double scaled = miss * Math.Pow(chance, run);
        return scaled == 0 ? double.PositiveInfinity : Math.Sqrt(Math.Max(0, (1 / (scaled * scaled)) - (((2 * run) + 1) / scaled) - (chance / (miss * miss))));
    }

    /// <summary>Expected attempts to so many sets, where a miss empties the set under way only.</summary>
    /// <param name="chance">The chance that an attempt is clean, 0 to 1.</param>
    /// <param name="sets">How many sets, at least 1.</param>
    /// <param name="run">Clean attempts running that finish a set, at least 1.</param>
    public static double ExpectedAttemptsToSets(double chance, int sets, int run)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(sets, 1);
        return sets * ExpectedAttempts(chance, run);
    }

    /// <summary>Expected attempts still to come, from a set under way.</summary>
    /// <param name="chance">The chance that an attempt is clean, 0 to 1.</param>
    /// <param name="setsLeft">Sets not finished, the one under way included; 0: none.</param>
    /// <param name="run">Clean attempts running that finish a set.</param>
    /// <param name="streak">Clean attempts the set under way holds, less than <paramref name="run"/>.</param>
    public static double ExpectedAttemptsLeft(double chance, int setsLeft, int run, int streak)
    {
        Check(chance, run);
        ArgumentOutOfRangeException.ThrowIfNegative(setsLeft);
        ArgumentOutOfRangeException.ThrowIfNegative(streak);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(streak, run);

        // From a streak of k: what the whole run expects less what the k clean ones were expected to cost (first-step analysis).
        return setsLeft == 0
            ? 0
            : (setsLeft * ExpectedAttempts(chance, run)) - (streak == 0 ? 0 : ExpectedAttempts(chance, streak));
    }

    /// <summary>The chance that a run comes within so many attempts.</summary>
    /// <param name="chance">The chance that an attempt is clean, 0 to 1.</param>
    /// <param name="run">Length of the run, at least 1.</param>
    /// <param name="attempts">How many attempts, at least 0.</param>
    public static double ChanceWithin(double chance, int run, int attempts)
    {
        Check(chance, run);
        ArgumentOutOfRangeException.ThrowIfNegative(attempts);
        double[] streaks = new double[run]; // chance of each streak with no run yet
        streaks[0] = 1;
        double reached = 0;
        for (int attempt = 0; attempt < attempts; attempt++)
        {
            double alive = 1 - reached;
            reached += streaks[run - 1] * chance;
            for (int streak = run - 1; streak > 0; streak--)
            {
                streaks[streak] = streaks[streak - 1] * chance;
            }

            streaks[0] = alive * (1 - chance);
        }

        return Math.Min(1, reached);
    }

    /// <summary>The lowest chance of a clean attempt at which a run is expected within a budget of attempts: below it, make the task easier.</summary>
    /// <param name="run">Length of the run, at least 1.</param>
    /// <param name="budget">Attempts, at least <paramref name="run"/>.</param>
    public static double LowestChanceFor(int run, double budget)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(run, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(budget, run);
        double low = 0;
        double high = 1;
        for (int step = 0; step < 60; step++)
        {
            double middle = (low + high) / 2;
            (low, high) = ExpectedAttempts(middle, run) <= budget ? (low, middle) : (middle, high);
        }

        return high;
    }

    private static void Check(double chance, int run)
    {
        if (!(chance is >= 0 and <= 1))
        {
            throw new ArgumentOutOfRangeException(nameof(chance), chance, "A chance lies between 0 and 1.");
        }

        ArgumentOutOfRangeException.ThrowIfLessThan(run, 1);
    }
}
