using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace EarCoach.Core.Progress;

/// <summary>What a number of clean and missed attempts tells about the chance that the next one is clean.</summary>
/// <remarks>Uniform prior: Beta(1 + clean, 1 + missed). All attempts count, not only the newest streak: a streak that was waited for proves
/// much less than one that came at once. Counts may be fractions, where older attempts are made to weigh less.</remarks>
public sealed record Reliability
{
    private readonly Beta _beta;

    /// <summary>From counts.</summary>
    /// <param name="clean">Clean attempts, at least 0.</param>
    /// <param name="missed">Missed attempts, at least 0.</param>
    public Reliability(double clean, double missed)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(clean);
        ArgumentOutOfRangeException.ThrowIfNegative(missed);
        Clean = clean;
        Missed = missed;
        _beta = new Beta(1 + clean, 1 + missed);
    }

    /// <summary>Clean attempts.</summary>
    public double Clean { get; }

    /// <summary>Missed attempts.</summary>
    public double Missed { get; }

    /// <summary>The chance that the next attempt is clean (rule of succession).</summary>
    public double Mean => (Clean + 1) / (Clean + Missed + 2);

    /// <summary>From attempts, oldest first, where each older one weighs less.</summary>
    /// <param name="attempts">True is clean.</param>
    /// <param name="halfLife">After so many newer attempts an attempt weighs half; infinite: all weigh the same.</param>
    public static Reliability OfAttempts(IReadOnlyList<bool> attempts, double halfLife = double.PositiveInfinity)
    {
        ArgumentNullException.ThrowIfNull(attempts);
        if (!(halfLife > 0))
        {
            throw new ArgumentOutOfRangeException(nameof(halfLife), halfLife, "A half-life is more than 0.");
        }

        double clean = 0;
        double missed = 0;
        for (int i = 0; i < attempts.Count; i++)
        {
            double weight = Math.Pow(0.5, (attempts.Count - 1 - i) / halfLife);
            clean += attempts[i] ? weight : 0;
            missed += attempts[i] ? 0 : weight;
        }

        return new Reliability(clean, missed);
    }

    /// <summary>The probability that the chance of a clean attempt is above a value.</summary>
    public double ProbabilityAbove(double chance) => chance <= 0 ? 1 : chance >= 1 ? 0 : 1 - _beta.CumulativeDistribution(chance);

    /// <summary>The value below which the chance of a clean attempt lies with this probability.</summary>
    public double Quantile(double probability)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(probability);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(probability, 1.0);
        return QuantileOf(1 + Clean, 1 + Missed, probability);
    }

    /// <summary>The exact one-sided lower limit of the chance, without a prior.</summary>
    /// <param name="clean">Clean attempts.</param>
    /// <param name="attempts">All attempts, at least 1.</param>
    /// <param name="confidence">For example 0.95.</param>
    /// <remarks>Source: C. J. Clopper and E. S. Pearson (1934), Biometrika 26, 404-413.</remarks>
    public static double ExactLowerLimit(int clean, int attempts, double confidence)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(attempts, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(clean);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(clean, attempts);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(confidence);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(confidence, 1.0);
        return clean == 0 ? 0 : QuantileOf(clean, attempts - clean + 1, 1 - confidence);
    }

    /// <inheritdoc/>
    public bool Equals(Reliability? other) => other is not null && Clean.Equals(other.Clean) && Missed.Equals(other.Missed);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Clean, Missed);

    private static double QuantileOf(double a, double b, double probability)
    {
        double low = 0;
        double high = 1;
        for (int step = 0; step < 60; step++)
        {
            double middle = (low + high) / 2;
            (low, high) = SpecialFunctions.BetaRegularized(a, b, middle) < probability ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
    }
}
