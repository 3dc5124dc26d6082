namespace EarCoach.Engine.Ports;

/// <summary>A session as it is kept.</summary>
/// <param name="Start">What was chosen.</param>
/// <param name="EndedAt">When it was over; null: it may go on.</param>
/// <param name="Log">Everything that happened, in order.</param>
public sealed record SessionRecord(SessionStart Start, DateTimeOffset? EndedAt, IReadOnlyList<LoggedInput> Log);
