namespace EarCoach.Core.Drills;

/// <summary>Proof: sets of consecutive clean play-throughs. A miss empties the set under way; finished sets stay, each marked with a seal.</summary>
/// <remarks>Three running is the usual minimum teachers ask for: common practice (for example musiciansway.com, The perils of mindless
/// repetition). Three sets of it: our choice.</remarks>
public sealed record ProofPlan : DrillPlan
{
    /// <inheritdoc/>
    public override DrillKind Kind => DrillKind.Proof;

    /// <summary>How many sets.</summary>
    public int Sets { get; init; } = 3;

    /// <summary>How many clean play-throughs running finish a set.</summary>
    public int CleanInARow { get; init; } = 3;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        [.. base.Problems(), .. OutOfRange("Sets", Sets, 1, 30), .. OutOfRange("Clean in a row", CleanInARow, 1, 50)];
}
