using System.Collections.Immutable;
using EarCoach.Core.Drills;

namespace EarCoach.Engine.Ports;

/// <summary>What was chosen when a session began. The passages are kept as they were then: a later edit does not change what was judged.</summary>
/// <param name="SessionId">Its name.</param>
/// <param name="StartedAt">When, with the player's offset from UTC.</param>
/// <param name="Passages">What is practised; a rotation has several.</param>
/// <param name="Plan">The drill and its numbers at the beginning.</param>
/// <param name="PlayedEarlierTodaySeconds">Seconds of playing that day before it.</param>
public sealed record SessionStart(
    Guid SessionId,
    DateTimeOffset StartedAt,
    ImmutableArray<SessionPassage> Passages,
    DrillPlan Plan,
    double PlayedEarlierTodaySeconds);
