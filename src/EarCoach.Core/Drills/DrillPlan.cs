using EarCoach.Core.Judging;

namespace EarCoach.Core.Drills;

/// <summary>What the player chose: a kind of drill and every number of it. Each number may be changed while the drill runs.</summary>
/// <remarks>The passages it is about are given to <see cref="Drill"/>; where only one is needed, it is the first.</remarks>
public abstract record DrillPlan
{
    /// <summary>Which drill.</summary>
    public abstract DrillKind Kind { get; }

    /// <summary>How strictly attempts are judged.</summary>
    public Tolerances Tolerances { get; init; } = new();

    /// <summary>Goal tempo in quarter notes a minute; null: the passage's own.</summary>
    public double? GoalQuartersPerMinute { get; init; }

    /// <summary>The player's A4 in hertz. Source of the default: ISO 16:1975.</summary>
    public double A4Hz { get; init; } = 440;

    /// <summary>When a rest is proposed.</summary>
    public RestRules Rests { get; init; } = new();

    /// <summary>Every broken rule, not only the first; empty for a plan that can be played.</summary>
    public virtual IEnumerable<string> Problems()
    {
        if (GoalQuartersPerMinute is { } goal && !(goal is >= 5 and <= 1000))
        {
            yield return $"The goal tempo is {goal} quarter notes a minute; give 5 to 1000.";
        }

        if (!(A4Hz is >= 380 and <= 500))
        {
            yield return $"A4 is {A4Hz} Hz; give 380 to 500.";
        }

        foreach (string problem in Rests.Problems())
        {
            yield return problem;
        }
    }

    /// <summary>A sentence for a whole number out of its range, or none.</summary>
    protected static IEnumerable<string> OutOfRange(string what, int value, int least, int most)
    {
        if (value < least || value > most)
        {
            yield return $"{what} is {value}; give {least} to {most}.";
        }
    }

    /// <summary>A sentence for a share out of its range, or none.</summary>
    protected static IEnumerable<string> OutOfRange(string what, double value, double least, double most)
    {
        if (!(value >= least && value <= most))
        {
            yield return $"{what} is {value}; give {least} to {most}.";
        }
    }
}
