namespace EarCoach.Engine.Sessions;

/// <summary>What was chosen cannot be practised; the message names every rule that is broken and the next step.</summary>
public sealed class PlanException(string message) : Exception(message);
