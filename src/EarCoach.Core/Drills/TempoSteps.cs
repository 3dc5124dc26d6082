using System.Collections.Immutable;

namespace EarCoach.Core.Drills;

/// <summary>Tempi at equal ratios up to a goal. Unit: quarter notes a minute.</summary>
public static class TempoSteps
{
    /// <summary>From a share of the goal up to it, in notches as near to the wanted size as makes the last one the goal itself.</summary>
    /// <param name="goal">The goal tempo.</param>
    /// <param name="startShare">The first tempo as a share of the goal, more than 0, at most 1.</param>
    /// <param name="notchShare">The wanted notch, for example 0.04.</param>
    /// <param name="beyond">Notches above the goal.</param>
    public static ImmutableArray<double> ByNotch(double goal, double startShare, double notchShare, int beyond)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(startShare);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(startShare, 1.0);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(notchShare);
        ArgumentOutOfRangeException.ThrowIfNegative(beyond);
        int notches = startShare < 1 ? Math.Max(1, (int)Math.Round(Math.Log(1 / startShare) / Math.Log(1 + notchShare))) : 0;
        double ratio = notches > 0 ? Math.Pow(startShare, -1.0 / notches) : 1 + notchShare;
        return [.. Enumerable.Range(0, notches + 1 + beyond).Select(i => i == notches ? goal : Rounded(goal * Math.Pow(ratio, i - notches)))];
    }

    /// <summary>So many tempi from a share of the goal up to it, both included.</summary>
    public static ImmutableArray<double> ByCount(double goal, double startShare, int count)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        return [.. Enumerable.Range(0, count).Select(i => i == count - 1 ? goal : Rounded(goal * Math.Pow(startShare, 1.0 - ((double)i / (count - 1)))))];
    }

    // A tenth of a beat a minute is far below the just noticeable difference of tempo (about 2.5 %); it keeps the numbers readable.
    private static double Rounded(double tempo) => Math.Round(tempo, 1, MidpointRounding.AwayFromZero);
}
