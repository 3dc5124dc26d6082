using EarCoach.Core.Drills;

namespace EarCoach.Engine.Ports;

/// <summary>One entry of a session's log. The log, replayed through the drill, gives the session's state.</summary>
/// <param name="Number">From 1, without holes.</param>
/// <param name="At">When.</param>
/// <param name="Input">What happened.</param>
public sealed record LoggedInput(int Number, DateTimeOffset At, DrillInput Input);
