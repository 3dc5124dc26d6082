namespace EarCoach.Core.Listening;

/// <summary>The newest thing the ear heard, for a display that shows the player that he is heard.</summary>
/// <param name="AtSample">Centre of the analysis window on the capture clock.</param>
/// <param name="FrequencyHz">Fundamental, or null when nothing periodic sounds.</param>
/// <param name="LevelDbfs">RMS level in dB relative to full scale.</param>
/// <param name="State">Whether an attempt is under way.</param>
public readonly record struct LiveReading(long AtSample, double? FrequencyHz, double LevelDbfs, EarState State);
