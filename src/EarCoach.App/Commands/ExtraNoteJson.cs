namespace EarCoach.App.Commands;

/// <summary>A sound that the passage lacks.</summary>
internal sealed record ExtraNoteJson(double Onset, double Midi, int AfterIndex);
