using System.Collections.Immutable;

namespace EarCoach.Core.Judging;

/// <summary>The verdict on one attempt, note by note. Times are seconds on the capture clock.</summary>
public sealed record AttemptResult
{
    /// <summary>The first sound of playing.</summary>
    public required double StartSeconds { get; init; }

    /// <summary>The end of the last note.</summary>
    public required double EndSeconds { get; init; }

    /// <summary>Clean, missed or not counted.</summary>
    public required Verdict Verdict { get; init; }

    /// <summary>Why it was missed for a cause that is no single note's ("tempo", "stopped"), or why it is not counted; else null.</summary>
    public string? Reason { get; init; }

    /// <summary>Fitted tempo in quarter notes a minute; null when timing is off or too few notes were heard.</summary>
    public double? TempoQuartersPerMinute { get; init; }

    /// <summary>Median deviation of the attempt from the player's A, in cents; null when too little was heard.</summary>
    public double? TuningCents { get; init; }

    /// <summary>What the deviations of the notes are measured from, in cents above the player's A: a slow drift of the whole instrument is followed.</summary>
    public double TuningReferenceCents { get; init; }

    /// <summary>One entry a note of the task, in order.</summary>
    public required ImmutableArray<NoteResult> Notes { get; init; }

    /// <summary>Sounds that the task lacks.</summary>
    public ImmutableArray<ExtraNote> ExtraNotes { get; init; } = [];

    /// <summary>The task it was judged against, tolerances included.</summary>
    public required JudgingTask Task { get; init; }
}
