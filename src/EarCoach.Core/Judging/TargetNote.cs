namespace EarCoach.Core.Judging;

/// <summary>A note of the task as the decoder needs it.</summary>
/// <param name="Midi">Target pitch as a fractional MIDI number at A4 = 440 Hz (the player's A is worked in).</param>
/// <param name="OnsetSeconds">Where it is due, from the first note's onset, at the asked tempo.</param>
/// <param name="LengthSeconds">Its written length at the asked tempo.</param>
/// <param name="Slurred">Whether it is joined to the note before.</param>
/// <param name="Required">Whether it must be played.</param>
internal readonly record struct TargetNote(double Midi, double OnsetSeconds, double LengthSeconds, bool Slurred, bool Required);
