using EarCoach.Core.Drills;

namespace EarCoach.Engine.Ports;

/// <summary>A session in a list.</summary>
/// <param name="SessionId">Its name.</param>
/// <param name="StartedAt">When it began.</param>
/// <param name="EndedAt">When it was over; null: it may go on.</param>
/// <param name="Kind">Which drill.</param>
/// <param name="Titles">What was practised.</param>
/// <param name="Tally">Attempts of each verdict.</param>
/// <param name="PlayedSeconds">Seconds of playing.</param>
public sealed record SessionSummary(
    Guid SessionId,
    DateTimeOffset StartedAt,
    DateTimeOffset? EndedAt,
    DrillKind Kind,
    IReadOnlyList<string> Titles,
    AttemptTally Tally,
    double PlayedSeconds);
