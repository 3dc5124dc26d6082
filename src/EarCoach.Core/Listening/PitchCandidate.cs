namespace EarCoach.Core.Listening;

/// <summary>One pitch that a frame may have.</summary>
/// <param name="Midi">Fractional MIDI number at A4 = 440 Hz (69 is A4).</param>
/// <param name="Clarity">Height of the peak of the normalised square difference function, at most 1: the share of the sound that repeats.</param>
/// <param name="Weight">Log-weight against the frame's most likely pitch, at most 0.</param>
public readonly record struct PitchCandidate(float Midi, float Clarity, float Weight);
