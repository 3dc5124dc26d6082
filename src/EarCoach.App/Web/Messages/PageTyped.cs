namespace EarCoach.App.Web.Messages;

/// <summary>A passage as it was typed.</summary>
/// <param name="Text">The notes.</param>
/// <param name="Title">What it is called.</param>
/// <param name="Beats">Upper number of the metre.</param>
/// <param name="BeatType">Lower number of the metre.</param>
/// <param name="KeyFifths">Key signature as typed.</param>
/// <param name="QuartersPerMinute">Tempo.</param>
/// <param name="FirstBar">Number of the first full bar.</param>
/// <param name="InstrumentId">The instrument.</param>
/// <param name="CrookId">The crook of a horn part.</param>
/// <param name="IsWritten">Whether the pitches are those of the part and not sounding ones.</param>
internal sealed record PageTyped(
    string? Text, string? Title, int? Beats, int? BeatType, int? KeyFifths, double? QuartersPerMinute, int? FirstBar, string? InstrumentId, string? CrookId, bool IsWritten);
