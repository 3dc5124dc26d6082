using System.Collections.Immutable;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;

namespace EarCoach.Core.Drills;

/// <summary>Rhythm variants: the whole passage in other rhythms, each so many times clean; when all are done, the next tempo.</summary>
public sealed record RhythmPlan : DrillPlan
{
    /// <summary>With the usual numbers. Variants are judged by long and short: how long exactly is the player's, common practice.</summary>
    public RhythmPlan() => Tolerances = new Tolerances { Timing = TimingMode.Rhythm };

    /// <inheritdoc/>
    public override DrillKind Kind => DrillKind.RhythmVariants;

    /// <summary>Codes of the variants, in order; see <see cref="RhythmVariants"/>. Those that change nothing in the passage are left out.</summary>
    public ImmutableArray<string> Variants { get; init; } = ["2a", "2b", "3a", "3b", "3c", "4a", "4b", "4c", "4d", "T0", "G4"];

    /// <summary>How fast the variants are; with more than one, each variant is played in each.</summary>
    public ImmutableArray<VariantScaling> Scalings { get; init; } = [VariantScaling.EqualTotal];

    /// <summary>Which notes the variants take.</summary>
    public VariantScope Scope { get; init; } = VariantScope.EvenRuns;

    /// <summary>How many clean attempts running each variant asks for.</summary>
    public int CleanInARow { get; init; } = 1;

    /// <summary>The first tempo as a share of the goal; 1: the goal itself, without a ladder.</summary>
    public double StartShare { get; init; } = 0.67;

    /// <summary>How many tempi from the first to the goal, both included; 1: the goal only.</summary>
    public int Tempi { get; init; } = 4;

    /// <summary>Whether each tempo ends with the passage as written; its onsets are then judged by the player's own even tempo, not by long and short.</summary>
    public bool EndAsWritten { get; init; } = true;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        IEnumerable<string> problems =
        [
            .. base.Problems(),
            .. OutOfRange("Clean in a row", CleanInARow, 1, 50),
            .. OutOfRange("The first tempo's share of the goal", StartShare, 0.2, 1.0),
            .. OutOfRange("The number of tempi", Tempi, 1, 40),
        ];
        if (Variants.IsDefaultOrEmpty)
        {
            problems = problems.Append("No rhythm variant is chosen; choose at least one.");
        }

        if (!Variants.IsDefault)
        {
            problems = problems.Concat(Variants.Where(code => RhythmVariants.ByCode(code) is null).Select(code => $"There is no rhythm variant '{code}'; the first ones are 2a, 2b, 3a, 4a, T0, G4."));
        }

        return Scalings.IsDefaultOrEmpty ? problems.Append("No scaling is chosen; choose equal-total, shorts-at-target or both.") : problems;
    }

    /// <summary>Equal in every number; lists by their entries.</summary>
    public bool Equals(RhythmPlan? other) => base.Equals(other)
        && CleanInARow == other.CleanInARow && StartShare.Equals(other.StartShare) && Tempi == other.Tempi && Scope == other.Scope && EndAsWritten == other.EndAsWritten
        && Variants.SequenceEqual(other.Variants) && Scalings.SequenceEqual(other.Scalings);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(base.GetHashCode(), CleanInARow, StartShare, Tempi, Variants.Length);
}
