using System.Text.Json;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;

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
                TempoBpm = Round(report.AskedTempo, 3),
                A4Hz = task.A4Hz,
            },
            SampleRateHz = report.Source.SampleRateHz,
            Seconds = Round(report.HeardSeconds, 3),
            Remarks = report.Source.Remarks,
            Attempts = [.. report.Attempts.Select(OfAttempt)],
            Summary = new SummaryJson(report.Attempts.Count, report.Clean, report.Missed, report.NotCounted, report.BestRun),
        };
        output.WriteLine(JsonSerializer.Serialize(document, JudgeJsonContext.Default.JudgeDocument));
    }

    private static double Round(double value, int digits) => Math.Round(value, digits, MidpointRounding.AwayFromZero);

    private static double? Round(double? value, int digits) => value is { } known ? Round(known, digits) : null;

    private AttemptJson OfAttempt(AttemptResult attempt) => new()
    {
        Start = Round(attempt.StartSeconds, 4),
        End = Round(attempt.EndSeconds, 4),
        Verdict = FaultNames.Of(attempt.Verdict),
        Reason = attempt.Reason,
        TempoBpm = Round(attempt.TempoQuartersPerMinute, 2),
        TuningCents = Round(attempt.TuningCents, 1),
        Notes = [.. attempt.Notes.Select(OfNote)],
        ExtraNotes = [.. attempt.ExtraNotes.Select(extra => new ExtraNoteJson(Round(extra.OnsetSeconds, 4), Round(extra.HeardMidi, 2), extra.AfterIndex))],
    };

    private NoteJson OfNote(NoteResult note)
    {
        BarPosition place = report.Bars.PositionOf(report.Task.Passage.Notes[note.Index].Onset);
        return new NoteJson
        {
            Index = note.Index,
            Midi = note.MidiPitch,
            Bar = place.Bar,
            Beat = Round(place.Beat.ToDouble(), 4),
            Onset = Round(note.OnsetSeconds, 4),
            Offset = Round(note.OffsetSeconds, 4),
            HeardMidi = Round(note.HeardMidi, 3),
            CentsOff = Round(note.CentsOff, 1),
            MsOff = Round(note.MsOff, 1),
            CrackMs = Round(note.CrackMs, 0),
            SemitoneOnly = note.SemitoneOnly,
            Faults = [.. note.Faults.Select(FaultNames.Of)],
        };
    }
}
