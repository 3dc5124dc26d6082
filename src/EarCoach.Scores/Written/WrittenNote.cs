using EarCoach.Core.Passages;

namespace EarCoach.Scores.Written;

/// <summary>A note as it stands on the page: not yet joined by ties, without repeats written out.</summary>
internal sealed record WrittenNote
{
    /// <summary>Quarter notes from the start of its measure.</summary>
    public required Fraction Offset { get; init; }

    /// <summary>Quarter notes; 0 for a grace note.</summary>
    public required Fraction Length { get; init; }

    public required int MidiPitch { get; init; }

    public required PitchSpelling? Spelling { get; init; }

    public required Transposition Transposition { get; init; }

    public required string Place { get; init; }

    /// <summary>Why the note cannot be judged, to be said only where its voice is chosen; null: it can.</summary>
    public ScoreException? Problem { get; init; }

    public bool IsGrace { get; init; }

    public bool IsInChord { get; init; }

    public bool TieStarts { get; init; }

    public bool TieStops { get; init; }

    /// <summary>Numbers of the slurs that begin here.</summary>
    public IReadOnlyList<string> SlurStarts { get; init; } = [];

    /// <summary>Numbers of the slurs that end here.</summary>
    public IReadOnlyList<string> SlurStops { get; init; } = [];

    public Articulations Articulations { get; init; }

    /// <summary>What this program's own marks say: null where there is none.</summary>
    public bool? IsTimingJudged { get; init; }

    public bool IsOptional { get; init; }

    /// <summary>This program's own mark of a grace note that was written with its time.</summary>
    public bool WasGrace { get; init; }

    /// <summary>Whether a ritardando or the like is in force.</summary>
    public bool IsInFreeTime { get; init; }
}
