namespace EarCoach.App.Web.Messages;

/// <summary>A key, a pedal or a button was pressed.</summary>
/// <param name="Command">For example "pause".</param>
internal sealed record PageCommand(string? Command);
