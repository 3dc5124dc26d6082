namespace EarCoach.Engine.Ports;

/// <summary>The sound of an attempt, with a little before and after it.</summary>
/// <param name="SampleRateHz">Samples a second.</param>
/// <param name="StartSample">Where it begins on the capture clock.</param>
/// <param name="Samples">16-bit mono samples.</param>
public sealed record AttemptClip(int SampleRateHz, long StartSample, ReadOnlyMemory<short> Samples);
