using EarCoach.App.Verdicts;

namespace EarCoach.App.Commands;

/// <summary>What `judge --json` writes.</summary>
internal sealed record JudgeDocument
{
    public required PassageJson Passage { get; init; }

    public required JudgedByJson JudgedBy { get; init; }

    public required int SampleRateHz { get; init; }

    public required double Seconds { get; init; }

    public required IReadOnlyList<string> Remarks { get; init; }

    public required IReadOnlyList<AttemptJson> Attempts { get; init; }

    public required SummaryJson Summary { get; init; }
}
