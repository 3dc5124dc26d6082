using EarCoach.Core.Drills;

namespace EarCoach.Engine.Sessions;

/// <summary>A rest that is proposed. It ends by itself, or when the player plays on.</summary>
/// <param name="Reason">Why.</param>
/// <param name="ProposedAt">When.</param>
/// <param name="Seconds">How long; null: for today.</param>
/// <param name="Sentence">In words.</param>
public sealed record RestProposal(RestReason Reason, DateTimeOffset ProposedAt, double? Seconds, string Sentence);
