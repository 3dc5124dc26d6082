namespace EarCoach.App.Commands;

/// <summary>One line of a trace.</summary>
/// <param name="Seconds">Centre of the frame, from the start of the sound.</param>
/// <param name="FrequencyHz">Fundamental; null where nothing periodic sounds.</param>
/// <param name="LevelDbfs">RMS level in dB relative to full scale.</param>
internal readonly record struct TraceFrame(double Seconds, double? FrequencyHz, double LevelDbfs);
