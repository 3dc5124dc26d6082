namespace EarCoach.Core.Passages;

/// <summary>One note of a passage.</summary>
public sealed record PassageNote
{
    /// <summary>Sounding pitch as a MIDI number, 0 to 127; 60 is middle C (C4), 69 is A4.</summary>
    public required int MidiPitch { get; init; }

    /// <summary>Where the note begins, in quarter notes from the start of the passage.</summary>
    public required Fraction Onset { get; init; }

    /// <summary>How long it is written, in quarter notes; more than 0.</summary>
    public required Fraction Length { get; init; }

    /// <summary>Whether it is joined to the note before it without a new attack.</summary>
    public bool SlurredFromPrevious { get; init; }

    /// <summary>Articulation marks of the source; none where the source has no such marks (a Standard MIDI File).</summary>
    public Articulations Articulations { get; init; }

    /// <summary>Where the note ends, in quarter notes from the start of the passage.</summary>
    public Fraction End => Onset + Length;

    /// <summary>The spelling on the page of the (transposed) part where the source gives one; null: spelled from the MIDI number and the key.</summary>
    public PitchSpelling? WrittenSpelling { get; init; }

    /// <summary>False where time is free (a fermata, a ritardando): the onset of this note is not judged.</summary>
    public bool TimingJudged { get; init; } = true;

    /// <summary>False for a note that may be played or left out (an ornament): it is never required.</summary>
    public bool Required { get; init; } = true;

    /// <summary>Whether it is printed as a grace note. Its onset and length are then the little time it was given, taken from the note before it.</summary>
    public bool IsGrace { get; init; }
}
