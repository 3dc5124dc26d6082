using System.Globalization;

namespace EarCoach.EndToEndTests.Running;

/// <summary>How a measured time spreads, in milliseconds.</summary>
internal sealed class Spread(IEnumerable<double> values)
{
    private readonly double[] _sorted = [.. values.Order()];

    /// <summary>The value that a share of all values does not exceed (nearest rank).</summary>
    public double At(double share) => _sorted[Math.Clamp((int)Math.Ceiling(share * _sorted.Length) - 1, 0, _sorted.Length - 1)];

    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture, $"n {_sorted.Length}, median {At(0.5):0} ms, p95 {At(0.95):0} ms, least {_sorted[0]:0} ms, most {_sorted[^1]:0} ms");
}
