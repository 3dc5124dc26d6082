using System.Collections.Immutable;

namespace EarCoach.Core.Judging;

/// <summary>What was heard for one note of the task. Times are seconds on the capture clock; null means not known.</summary>
public sealed record NoteResult
{
    /// <summary>Which note of the task, from 0.</summary>
    public required int Index { get; init; }

    /// <summary>Its sounding MIDI pitch.</summary>
    public required int MidiPitch { get; init; }

    /// <summary>Where it began to sound; null when missing.</summary>
    public double? OnsetSeconds { get; init; }

    /// <summary>Where it ended; null when missing.</summary>
    public double? OffsetSeconds { get; init; }

    /// <summary>The steady pitch heard, as a fractional MIDI number in the player's tuning; null when missing.</summary>
    public double? HeardMidi { get; init; }

    /// <summary>Deviation of the steady pitch in cents, positive sharp; null when missing or too short to tell, unless it lies between two semitones.</summary>
    public double? CentsOff { get; init; }

    /// <summary>Deviation of the onset from the tempo line in milliseconds, positive late; null when missing or timing is off.</summary>
    public double? MsOff { get; init; }

    /// <summary>How long another pitch sounded before this one settled, in milliseconds; null when none was heard.</summary>
    public double? CrackMs { get; init; }

    /// <summary>True where the note was too short for its cents to be held against the tolerance: only the semitone was judged.</summary>
    public bool SemitoneOnly { get; init; }

    /// <summary>What was wrong; empty when nothing was.</summary>
    public ImmutableArray<NoteFault> Faults { get; init; } = [];
}
