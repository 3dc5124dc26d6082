using EarCoach.Core.Passages;

namespace EarCoach.Scores.Midi;

/// <summary>Which part of a Standard MIDI File to read, and how strictly.</summary>
public sealed record MidiReadOptions
{
    /// <summary>The usual choice: the only part that has notes.</summary>
    public static MidiReadOptions Default { get; } = new();

    /// <summary>Track to read, counted from 1 in the order of the file; null: the only one with notes.</summary>
    public int? Track { get; init; }

    /// <summary>Channel to read, 1 to 16; null: the only one with notes.</summary>
    public int? Channel { get; init; }

    /// <summary>Title of the passage; null: the name of the track, or of the sequence.</summary>
    public string? Title { get; init; }

    /// <summary>Id of the instrument the passage is for; null: the usual one of the part's General MIDI program, where it has one.</summary>
    public string? InstrumentId { get; init; }

    /// <summary>How long a note may sound into the next and still be cut short to a legato line, in quarter notes.</summary>
    /// <remarks>Default 1/8, a thirty-second note: sequencers and performers let slurred notes overlap by about that much. Our choice.
    /// Besides this, the overlap may be at most half of the note that is cut, and the next note must end after it.</remarks>
    public Fraction LongestOverlap { get; init; } = new(1, 8);

    /// <summary>Most notes a passage may have.</summary>
    public int MostNotes { get; init; } = 20_000;
}
