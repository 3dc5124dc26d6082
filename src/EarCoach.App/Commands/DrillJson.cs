using System.Text.Json;
using EarCoach.App.Verdicts;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine;
using EarCoach.Engine.Sessions;
using EarCoach.Engine.Wording;

namespace EarCoach.App.Commands;

/// <summary>Writes a drill as one JSON object, at the end.</summary>
internal sealed class DrillJson(TextWriter output, IAudioSource source) : IDrillWriter
{
    private readonly List<DrillAttemptJson> _attempts = [];

    public void Begin(SessionView view)
    {
        // everything comes at the end, as one object
    }

    public void Verdict(VerdictReport report, IReadOnlyList<DrillEffect> effects, SessionView view) => _attempts.Add(OfAttempt(report, view));

    public void Changed(IReadOnlyList<DrillEffect> effects, SessionView view)
    {
        // A dispute changes the attempt that was written down last, and the count with it.
        if (effects.Any(effect => effect is DrillEffect.TakenBack) && view.LastVerdict is { } last && _attempts.Count > 0 && _attempts[^1].Number == last.Number)
        {
            _attempts[^1] = OfAttempt(last, view);
        }
    }

    public void End(SessionView view, bool stopped)
    {
        AttemptTally tally = view.Drill.Tally;
        DrillDocument document = new()
        {
            SessionId = view.SessionId,
            Kind = DrillKindNames.Of(view.Drill.Kind),
            Passages = [.. view.Passages.Select(passage => new PassageJson(passage.Passage.Title, passage.Passage.InstrumentId, passage.Passage.Notes.Length))],
            Remarks = source.Remarks,
            Attempts = _attempts,
            Count = CountOf(view.Drill),
            Summary = new DrillTallyJson(tally.Clean, tally.Missed, tally.NotCounted, tally.Disputed, Rounded.To(view.PlayedSeconds, 1)),
        };
        output.WriteLine(JsonSerializer.Serialize(document, CommandJsonContext.Default.DrillDocument));
        output.Flush();
    }

    private static DrillCountJson CountOf(DrillView drill) =>
        new(drill.Phase == DrillPhase.Done, drill.Stage, drill.Stages, drill.Count, drill.Needed, drill.Seals);

    private static DrillAttemptJson OfAttempt(VerdictReport report, SessionView view)
    {
        Passage passage = view.Passages[report.Task.PassageIndex].Passage;
        BarMap bars = new(passage);
        AttemptJson attempt = AttemptJson.Of(report.Result, index => bars.PositionOf(passage.Notes[report.PassageNotes[index]].Onset));
        return new DrillAttemptJson
        {
            Number = report.Number,
            Task = new DrillTaskJson(
                new VerdictWording([.. view.Passages.Select(kept => kept.Passage)]).TaskSentence(report.Task),
                report.Task.PassageIndex, report.Task.FirstNote, report.Task.NoteCount, report.Task.VariantCode,
                Rounded.To(report.Task.QuartersPerMinute ?? passage.Tempi[0].QuartersPerMinute, 3)),
            Attempt = report.Disputed ? attempt with { Verdict = FaultNames.Of(Core.Judging.Verdict.NotCounted), Reason = "disputed" } : attempt,
            Headline = report.Headline,
            Lines = report.Lines,
            Count = CountOf(view.Drill),
        };
    }
}
