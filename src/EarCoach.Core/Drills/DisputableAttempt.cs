using EarCoach.Core.Judging;

namespace EarCoach.Core.Drills;

/// <summary>The last counted attempt, while nothing has happened that rests upon it: a dispute takes it back.</summary>
/// <param name="Verdict">Clean or missed.</param>
/// <param name="Before">How far the drill had come before it.</param>
/// <param name="RestsBefore">What the rests knew before it.</param>
public sealed record DisputableAttempt(Verdict Verdict, DrillProgress Before, RestLedger RestsBefore);
