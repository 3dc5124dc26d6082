using System.Globalization;
using System.Numerics;

namespace EarCoach.Core.Passages;

/// <summary>An exact ratio of two whole numbers, always in lowest terms with a positive denominator: note values without rounding.</summary>
/// <remarks>Unit where it stands for time: quarter notes. Overflow of 64 bits throws <see cref="OverflowException"/>.</remarks>
public readonly struct Fraction : IEquatable<Fraction>, IComparable<Fraction>
{
    private readonly long _denominatorLessOne; // so that default(Fraction) is 0/1

    /// <summary>Makes numerator / denominator in lowest terms.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The denominator is 0.</exception>
    public Fraction(long numerator, long denominator)
    {
        ArgumentOutOfRangeException.ThrowIfZero(denominator);
        long divisor = (long)BigInteger.GreatestCommonDivisor(numerator, denominator);
        if (denominator < 0)
        {
            divisor = -divisor;
        }

        Numerator = numerator / divisor;
        _denominatorLessOne = (denominator / divisor) - 1;
    }

    /// <summary>Zero.</summary>
    public static Fraction Zero => default;

    /// <summary>One.</summary>
    public static Fraction One => new(1, 1);

    /// <summary>The number above the line; carries the sign.</summary>
    public long Numerator { get; }

    /// <summary>The number below the line; at least 1.</summary>
    public long Denominator => _denominatorLessOne + 1;

    /// <summary>The ratio as a floating-point number.</summary>
    public double ToDouble() => (double)Numerator / Denominator;

    /// <summary>The greatest whole number not above the ratio.</summary>
    public long Floor() => Numerator >= 0 || Numerator % Denominator == 0 ? Numerator / Denominator : (Numerator / Denominator) - 1;

    /// <inheritdoc/>
    public int CompareTo(Fraction other) => ((Int128)Numerator * other.Denominator).CompareTo((Int128)other.Numerator * Denominator);

    /// <inheritdoc/>
    public bool Equals(Fraction other) => Numerator == other.Numerator && Denominator == other.Denominator;

    /// <inheritdoc/>
    public override bool Equals(object? obj) => obj is Fraction other && Equals(other);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Numerator, Denominator);

    /// <summary>For example "3/4", or "2" for a whole number.</summary>
    public override string ToString() => Denominator == 1
        ? Numerator.ToString(CultureInfo.InvariantCulture)
        : string.Create(CultureInfo.InvariantCulture, $"{Numerator}/{Denominator}");

    /// <summary>A whole number as a fraction.</summary>
    public static implicit operator Fraction(int value) => new(value, 1);

    /// <summary>Sum.</summary>
    public static Fraction operator +(Fraction a, Fraction b) => Make(((Int128)a.Numerator * b.Denominator) + ((Int128)b.Numerator * a.Denominator), (Int128)a.Denominator * b.Denominator);

    /// <summary>Difference.</summary>
    public static Fraction operator -(Fraction a, Fraction b) => Make(((Int128)a.Numerator * b.Denominator) - ((Int128)b.Numerator * a.Denominator), (Int128)a.Denominator * b.Denominator);

    /// <summary>Product.</summary>
    public static Fraction operator *(Fraction a, Fraction b) => Make((Int128)a.Numerator * b.Numerator, (Int128)a.Denominator * b.Denominator);

    /// <summary>Quotient.</summary>
    /// <exception cref="DivideByZeroException">b is 0.</exception>
    public static Fraction operator /(Fraction a, Fraction b) => b.Numerator == 0
        ? throw new DivideByZeroException("A note value cannot be divided by zero.")
        : Make((Int128)a.Numerator * b.Denominator, (Int128)a.Denominator * b.Numerator);

    /// <summary>Equal.</summary>
    public static bool operator ==(Fraction a, Fraction b) => a.Equals(b);

    /// <summary>Not equal.</summary>
    public static bool operator !=(Fraction a, Fraction b) => !a.Equals(b);

    /// <summary>Less.</summary>
    public static bool operator <(Fraction a, Fraction b) => a.CompareTo(b) < 0;

    /// <summary>Greater.</summary>
    public static bool operator >(Fraction a, Fraction b) => a.CompareTo(b) > 0;

    /// <summary>Less or equal.</summary>
    public static bool operator <=(Fraction a, Fraction b) => a.CompareTo(b) <= 0;

    /// <summary>Greater or equal.</summary>
    public static bool operator >=(Fraction a, Fraction b) => a.CompareTo(b) >= 0;

    private static Fraction Make(Int128 numerator, Int128 denominator)
    {
        BigInteger divisor = BigInteger.GreatestCommonDivisor(numerator, denominator);
        return divisor.IsZero ? default : new Fraction(checked((long)((BigInteger)numerator / divisor)), checked((long)((BigInteger)denominator / divisor)));
    }
}
