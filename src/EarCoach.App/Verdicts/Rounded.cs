namespace EarCoach.App.Verdicts;

/// <summary>Numbers as they are written: no digits that mean nothing.</summary>
internal static class Rounded
{
    /// <summary>To so many digits, halves away from zero.</summary>
    public static double To(double value, int digits) => Math.Round(value, digits, MidpointRounding.AwayFromZero);

    /// <summary>The same; what is not known stays unknown.</summary>
    public static double? To(double? value, int digits) => value is { } known ? To(known, digits) : null;
}
