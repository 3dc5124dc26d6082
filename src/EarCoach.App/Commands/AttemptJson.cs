namespace EarCoach.App.Commands;

/// <summary>One attempt. Times in seconds from the start of the recording; tempo in quarter notes a minute.</summary>
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
}
