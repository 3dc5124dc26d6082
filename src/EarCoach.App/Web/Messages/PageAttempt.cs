using EarCoach.App.Verdicts;

namespace EarCoach.App.Web.Messages;

/// <summary>A verdict as the page shows it. Times are seconds on the clock of the stream it was heard in.</summary>
internal sealed record PageAttempt
{
    public required int Number { get; init; }

    /// <summary>Place among the attempts of the session, from 1; 0 where it is not told.</summary>
    public int Place { get; init; }

    public required DateTimeOffset At { get; init; }

    public required double Start { get; init; }

    public required double End { get; init; }

    public required string Verdict { get; init; }

    public string? Reason { get; init; }

    /// <summary>The verdict in one sentence.</summary>
    public required string Headline { get; init; }

    /// <summary>The task in one sentence.</summary>
    public required string Sentence { get; init; }

    /// <summary>What was wrong; empty when nothing was.</summary>
    public required IReadOnlyList<PageFault> Faults { get; init; }

    public double? TempoBpm { get; init; }

    public required double AskedBpm { get; init; }

    public double? TuningCents { get; init; }

    public required PageLimits Limits { get; init; }

    public required string Score { get; init; }

    public required int ShownFirst { get; init; }

    public required int ShownCount { get; init; }

    public required int ShownTotal { get; init; }

    public required string Clip { get; init; }

    public required IReadOnlyList<NoteJson> Notes { get; init; }

    public required IReadOnlyList<ExtraNoteJson> ExtraNotes { get; init; }
}
