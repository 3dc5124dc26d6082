using EarCoach.Core.Judging;
using EarCoach.Core.Passages;

namespace EarCoach.Core.Drills;

/// <summary>Chain: one note, then two, and so on; each length clean so many times running before the next.</summary>
/// <remarks>Forward is the default: keyboard players retained forward-chained music better on most measures (Ash and Holding 1990,
/// abstract); teachers use both. Timing is off at first: the chain builds the notes, not the tempo.</remarks>
public sealed record ChainPlan : DrillPlan
{
    /// <summary>A chain with its usual strictness: pitch only.</summary>
    public ChainPlan() => Tolerances = new Tolerances { Timing = TimingMode.Off };

    /// <inheritdoc/>
    public override DrillKind Kind => DrillKind.Chain;

    /// <summary>Which way it grows.</summary>
    public ChainDirection Direction { get; init; } = ChainDirection.Forward;

    /// <summary>How much it grows by.</summary>
    public ChainUnit Unit { get; init; } = ChainUnit.Note;

    /// <summary>The note it starts from, counted from 0; null: the first note forward and outward, the last note backward.</summary>
    public int? FromNote { get; init; }

    /// <summary>How many clean attempts running each length asks for.</summary>
    public int CleanInARow { get; init; } = 3;

    /// <summary>Whether the last note of each length is held, as when notes are added one by one at the goal tempo.</summary>
    public bool HoldLast { get; init; }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        [.. base.Problems(), .. OutOfRange("Clean in a row", CleanInARow, 1, 50), .. OutOfRange("The note to start from", FromNote ?? 0, 0, 100_000)];
}
