using System.Globalization;

namespace EarCoach.Core.Passages;

/// <summary>A place in the part as a player names it.</summary>
/// <param name="Bar">Bar number as in the part.</param>
/// <param name="Beat">Beat within the bar in units of the metre's lower number; the first beat is 1, half-way to the next is 3/2.</param>
public readonly record struct BarPosition(int Bar, Fraction Beat)
{
    /// <summary>For example "bar 3, beat 2" or "bar 3, beat 2+1/2".</summary>
    public override string ToString()
    {
        long whole = Beat.Floor();
        Fraction rest = Beat - new Fraction(whole, 1);
        string beat = rest == Fraction.Zero ? $"{whole}" : $"{whole}+{rest}";
        return string.Create(CultureInfo.InvariantCulture, $"bar {Bar}, beat {beat}");
    }
}
