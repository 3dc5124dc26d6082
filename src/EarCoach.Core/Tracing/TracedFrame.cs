using EarCoach.Core.Listening;

namespace EarCoach.Core.Tracing;

/// <summary>The pitch and level around one moment, after smoothing over time.</summary>
/// <param name="CentreSample">Centre of the frame on the capture clock, in samples.</param>
/// <param name="Midi">Fractional MIDI number at A4 = 440 Hz; NaN where nothing with a pitch sounds.</param>
/// <param name="Clarity">Share of the sound that repeats at this pitch, at most 1; where there is no pitch, that of the likeliest one.</param>
/// <param name="LevelDbfs">Root-mean-square level in dB relative to full scale, without any constant offset; -120 at least.</param>
public readonly record struct TracedFrame(long CentreSample, float Midi, float Clarity, float LevelDbfs)
{
    /// <summary>Whether something with a pitch sounds.</summary>
    public bool Voiced => !float.IsNaN(Midi);

    /// <summary>Fundamental in hertz; NaN where nothing with a pitch sounds.</summary>
    public double FrequencyHz => EqualTemperament.HzOf(Midi);
}
