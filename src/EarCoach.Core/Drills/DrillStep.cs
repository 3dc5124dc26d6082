namespace EarCoach.Core.Drills;

/// <summary>What became of a drill by one input.</summary>
/// <param name="Next">The state afterwards; the same object when the input did not apply.</param>
/// <param name="Effects">What follows, in order; empty when the input did not apply.</param>
public sealed record DrillStep(DrillState Next, IReadOnlyList<DrillEffect> Effects);
