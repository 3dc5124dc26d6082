namespace EarCoach.App.Web.Messages;

/// <summary>Another instrument or crook for a passage.</summary>
/// <param name="InstrumentId">The instrument; null or "": not known.</param>
/// <param name="CrookId">The crook of a horn; null or "": the instrument's own transposition.</param>
/// <param name="KeepWritten">Whether the written notes stay and what sounds changes.</param>
internal sealed record PageInstrumentEdit(string? InstrumentId, string? CrookId, bool KeepWritten);
