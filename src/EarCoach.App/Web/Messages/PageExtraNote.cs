namespace EarCoach.App.Web.Messages;

/// <summary>A sound that the task lacks.</summary>
/// <param name="Onset">Seconds.</param>
/// <param name="Midi">Fractional MIDI number, sounding.</param>
/// <param name="AfterIndex">The note of the task within or after which it sounded.</param>
internal sealed record PageExtraNote(double Onset, double Midi, int AfterIndex);
