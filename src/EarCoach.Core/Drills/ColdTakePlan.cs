namespace EarCoach.Core.Drills;

/// <summary>Cold take: the first play-through of a day, once, kept apart from all others.</summary>
public sealed record ColdTakePlan : DrillPlan
{
    /// <inheritdoc/>
    public override DrillKind Kind => DrillKind.ColdTake;
}
