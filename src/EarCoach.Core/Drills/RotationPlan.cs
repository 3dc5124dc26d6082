namespace EarCoach.Core.Drills;

/// <summary>Rotation: several passages in turn, so many attempts each.</summary>
public sealed record RotationPlan : DrillPlan
{
    /// <inheritdoc/>
    public override DrillKind Kind => DrillKind.Rotation;

    /// <summary>How many counted attempts each passage has in its turn.</summary>
    public int AttemptsEach { get; init; } = 3;

    /// <summary>How many times each passage has its turn.</summary>
    public int Rounds { get; init; } = 3;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        [.. base.Problems(), .. OutOfRange("Attempts each", AttemptsEach, 1, 50), .. OutOfRange("Rounds", Rounds, 1, 50)];
}
