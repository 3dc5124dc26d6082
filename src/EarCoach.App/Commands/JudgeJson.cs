using System.Text.Json;
using EarCoach.App.Verdicts;
using EarCoach.Core.Judging;

namespace EarCoach.App.Commands;

/// <summary>Writes verdicts as one JSON object, at the end.</summary>
internal sealed class JudgeJson(JudgeReport report) : IJudgeWriter
{
    public void Begin(TextWriter output)
    {
        // everything comes at the end, as one object
    }

    public void Attempt(TextWriter output, AttemptResult attempt, int number)
    {
        // see Begin
    }

    public void End(TextWriter output)
    {
        JudgingTask task = report.Task;
        Tolerances limits = task.Tolerances;
        var document = new JudgeDocument
        {
            Passage = new PassageJson(task.Passage.Title, task.Passage.InstrumentId, task.Passage.Notes.Length),
            JudgedBy = new JudgedByJson
            {
                Timing = limits.Timing.ToString().ToLowerInvariant(),
                Level = report.Level?.ToString().ToLowerInvariant(),
                Cents = limits.Cents,
                Ms = limits.OnsetMs,
                CrackMs = limits.CrackMs,
                TempoShare = limits.TempoShare,
                LongRatio = limits.Timing == TimingMode.Rhythm ? limits.LongRatio : null,
                EvenShare = limits.Timing == TimingMode.Rhythm ? limits.EvenShare : null,
                TempoBpm = Rounded.To(report.AskedTempo, 3),
                A4Hz = task.A4Hz,
            },
            SampleRateHz = report.Source.SampleRateHz,
            Seconds = Rounded.To(report.HeardSeconds, 3),
            Remarks = report.Source.Remarks,
            Attempts = [.. report.Attempts.Select(attempt => AttemptJson.Of(attempt, index => report.Bars.PositionOf(task.Passage.Notes[index].Onset)))],
            Summary = new SummaryJson(report.Attempts.Count, report.Clean, report.Missed, report.NotCounted, report.BestRun),
        };
        output.WriteLine(JsonSerializer.Serialize(document, CommandJsonContext.Default.JudgeDocument));
    }
}
