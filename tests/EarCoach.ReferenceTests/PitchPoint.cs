namespace EarCoach.ReferenceTests;

/// <summary>A pitch at a moment.</summary>
/// <param name="Seconds">From the start of the sound.</param>
/// <param name="Midi">Fractional MIDI number; null where none was heard.</param>
/// <param name="LevelDbfs">Level, where the tracker tells it.</param>
internal readonly record struct PitchPoint(double Seconds, double? Midi, double LevelDbfs);
