using System.Collections.Immutable;
using EarCoach.Core.Judging;

namespace EarCoach.Core.Drills;

/// <summary>Trouble spot: the notes most often faulty, each with its neighbours, as a short chain.</summary>
public sealed record TroubleSpotPlan : DrillPlan
{
    /// <summary>A trouble spot drill with its usual strictness: pitch only.</summary>
    public TroubleSpotPlan() => Tolerances = new Tolerances { Timing = TimingMode.Off };

    /// <inheritdoc/>
    public override DrillKind Kind => DrillKind.TroubleSpot;

    /// <summary>The notes, counted from 0, worst first; at least one.</summary>
    public required ImmutableArray<int> Spots { get; init; }

    /// <summary>How many neighbours on each side the chain grows to.</summary>
    public int Neighbours { get; init; } = 2;

    /// <summary>How many clean attempts running each length asks for.</summary>
    public int CleanInARow { get; init; } = 3;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        IEnumerable<string> problems =
            [.. base.Problems(), .. OutOfRange("Neighbours", Neighbours, 1, 20), .. OutOfRange("Clean in a row", CleanInARow, 1, 50)];
        return Spots.IsDefaultOrEmpty
            ? problems.Append("No trouble spot is known yet; play the passage some times first, or choose notes.")
            : problems.Concat(Spots.Where(spot => spot < 0).Select(spot => $"A trouble spot is note {spot}; notes are counted from 0."));
    }

    /// <summary>Equal in every number; lists by their entries.</summary>
    public bool Equals(TroubleSpotPlan? other) =>
        base.Equals(other) && Neighbours == other.Neighbours && CleanInARow == other.CleanInARow && Spots.SequenceEqual(other.Spots);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(base.GetHashCode(), Neighbours, CleanInARow, Spots.Length);
}
