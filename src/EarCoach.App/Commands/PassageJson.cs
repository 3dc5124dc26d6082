namespace EarCoach.App.Commands;

/// <summary>The passage that was asked for.</summary>
internal sealed record PassageJson(string Title, string? Instrument, int Notes);
