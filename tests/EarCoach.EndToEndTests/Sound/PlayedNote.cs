namespace EarCoach.EndToEndTests.Sound;

/// <summary>A note as it is to sound.</summary>
/// <param name="Midi">Sounding pitch; need not be whole.</param>
/// <param name="OnsetSeconds">From the start of the attempt.</param>
/// <param name="LengthSeconds">How long it sounds.</param>
internal readonly record struct PlayedNote(double Midi, double OnsetSeconds, double LengthSeconds);
