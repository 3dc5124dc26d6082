namespace EarCoach.App.Web.Sockets;

/// <summary>The first message of the sound socket, and the later ones that are text.</summary>
/// <param name="Type">"hello" or "cue".</param>
/// <param name="RateHz">Samples a second that the browser granted.</param>
/// <param name="DurationMs">How long a cue sounds.</param>
/// <param name="TonesHz">The pitches of a cue, in hertz.</param>
internal sealed record SoundHello(string? Type, double RateHz, double DurationMs, double[]? TonesHz);
