namespace EarCoach.Scores.Midi;

/// <summary>How to write a Standard MIDI File.</summary>
public sealed record MidiWriteOptions
{
    /// <summary>Format 1: tempo, metre and key in a first track, the notes in a second.</summary>
    public static MidiWriteOptions Default { get; } = new();

    /// <summary>0 (one track) or 1.</summary>
    public int Format { get; init; } = 1;

    /// <summary>Channel of the notes, 1 to 16.</summary>
    public int Channel { get; init; } = 1;

    /// <summary>General MIDI program, 1 to 128; null: that of the passage's instrument, or none.</summary>
    public int? Program { get; init; }

    /// <summary>Note-on velocity, 1 to 127.</summary>
    public int Velocity { get; init; } = 80;
}
