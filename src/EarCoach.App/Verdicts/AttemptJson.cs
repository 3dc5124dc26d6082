using EarCoach.Core.Judging;
using EarCoach.Core.Passages;

namespace EarCoach.App.Verdicts;

/// <summary>One attempt. Times in seconds from the start of the sound; tempo in quarter notes a minute.</summary>
internal sealed record AttemptJson
{
    public required double Start { get; init; }

    public required double End { get; init; }

    public required string Verdict { get; init; }

    public string? Reason { get; init; }

    public double? TempoBpm { get; init; }

    public double? TuningCents { get; init; }

    public required IReadOnlyList<NoteJson> Notes { get; init; }

    public required IReadOnlyList<ExtraNoteJson> ExtraNotes { get; init; }

    /// <summary>An attempt at a task.</summary>
    /// <param name="attempt">The verdict.</param>
    /// <param name="placeOf">Where a note of the task, counted from 0, stands in its passage.</param>
    public static AttemptJson Of(AttemptResult attempt, Func<int, BarPosition> placeOf) => new()
    {
        Start = Rounded.To(attempt.StartSeconds, 4),
        End = Rounded.To(attempt.EndSeconds, 4),
        Verdict = FaultNames.Of(attempt.Verdict),
        Reason = attempt.Reason,
        TempoBpm = Rounded.To(attempt.TempoQuartersPerMinute, 2),
        TuningCents = Rounded.To(attempt.TuningCents, 1),
        Notes = [.. attempt.Notes.Select(note => NoteJson.Of(note, placeOf(note.Index)))],
        ExtraNotes = [.. attempt.ExtraNotes.Select(ExtraNoteJson.Of)],
    };
}
