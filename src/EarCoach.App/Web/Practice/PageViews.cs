using System.Globalization;
using EarCoach.App.Web.Messages;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;

namespace EarCoach.App.Web.Practice;

/// <summary>From a session to what the page shows of it.</summary>
internal static class PageViews
{
    /// <summary>The session as it is.</summary>
    public static PageView Of(SessionView view)
    {
        int shown = view.Drill.Task?.PassageIndex ?? view.LastVerdict?.Task.PassageIndex ?? 0;
        Passage passage = view.Passages[shown].Passage;
        PitchNames written = new(passage);
        return new PageView
        {
            SessionId = view.SessionId,
            Word = WordOf(view.Word),
            Passage = new PagePassage(passage.Title, written.InstrumentName, written.Transposition),
            Drill = new PageDrill
            {
                Kind = DrillKindNames.Of(view.Drill.Kind),
                Name = DrillCatalogue.NameOf(view.Drill.Kind),
                Phase = PhaseOf(view),
                Stage = view.Drill.Stage,
                Stages = view.Drill.Stages,
                Count = view.Drill.Count,
                Needed = view.Drill.Needed,
                Seals = view.Drill.Seals,
                Skipped = view.Drill.Skipped,
            },
            Task = TaskOf(view),
            Last = view.LastVerdict is { } last ? AttemptOf(view.SessionId, last, view.Passages) : null,
            CanDispute = view.CanDispute,
            Rest = view.Rest is { } rest ? new PageRest(rest.Reason.ToString(), rest.Sentence, rest.Seconds is { } seconds ? rest.ProposedAt.AddSeconds(seconds) : null) : null,
            Hint = view.Hint,
            PlayedSeconds = view.PlayedSeconds,
        };
    }

    /// <summary>A verdict.</summary>
    public static PageAttempt AttemptOf(Guid sessionId, VerdictReport report, IReadOnlyList<SessionPassage> passages, int place = 0)
    {
        AttemptResult result = report.Result;
        Passage judged = result.Task.Passage;
        Passage whole = passages[report.Task.PassageIndex].Passage;
        bool isVariant = report.Task.VariantCode is not null;
        Passage shown = isVariant ? judged : whole;
        PitchNames written = new(whole);
        BarMap bars = new(shown);
        int ShownIndex(int index) => isVariant ? index : report.PassageNotes[index];
        Fraction PlaceOf(ExtraNote extra) => shown.Notes[ShownIndex(Math.Clamp(extra.AfterIndex, 0, result.Notes.Length - 1))].Onset;

        return new PageAttempt
        {
            Number = report.Number,
            Place = place,
            At = report.At,
            Start = result.StartSeconds,
            End = result.EndSeconds,
            Verdict = FaultNames.Of(report.Disputed ? Verdict.NotCounted : result.Verdict),
            Reason = report.Disputed ? "disputed" : result.Reason,
            Sentence = SentenceOf(report.Task, whole),
            TempoBpm = result.TempoQuartersPerMinute,
            AskedBpm = result.Task.QuartersPerMinute ?? judged.Tempi[0].QuartersPerMinute,
            TuningCents = result.TuningCents,
            Limits = LimitsOf(result.Task.Tolerances),
            Transposition = written.Transposition,
            Score = ScoreAddress(sessionId, report.Task),
            ShownFirst = isVariant ? 0 : report.Task.FirstNote,
            ShownCount = isVariant ? judged.Notes.Length : report.Task.NoteCount,
            ShownTotal = shown.Notes.Length,
            Clip = string.Create(CultureInfo.InvariantCulture, $"/api/sessions/{sessionId}/attempts/{report.Number}/clip"),
            Notes = [.. result.Notes.Select(note => new PageNote
            {
                Index = note.Index,
                Shown = ShownIndex(note.Index),
                Midi = note.MidiPitch,
                Written = written.NameOf(shown.Notes[ShownIndex(note.Index)]),
                Bar = bars.PositionOf(shown.Notes[ShownIndex(note.Index)].Onset).Bar,
                Onset = note.OnsetSeconds,
                Offset = note.OffsetSeconds,
                HeardMidi = note.HeardMidi,
                Heard = note.HeardMidi is { } heard ? written.NameOf(heard, shown.Notes[ShownIndex(note.Index)].Onset) : null,
                CentsOff = note.CentsOff,
                MsOff = note.MsOff,
                CrackMs = note.CrackMs,
                Faults = [.. note.Faults.Select(FaultNames.Of)],
            })],
            ExtraNotes = [.. result.ExtraNotes.Select(extra => new PageExtraNote(extra.OnsetSeconds, extra.HeardMidi, written.NameOf(extra.HeardMidi, PlaceOf(extra)), extra.AfterIndex))],
        };
    }

    /// <summary>A session's state in one word.</summary>
    public static string WordOf(SessionWord word) => word switch
    {
        SessionWord.Waiting => "waiting",
        SessionWord.Ready => "ready",
        SessionWord.Listening => "listening",
        SessionWord.Judging => "judging",
        SessionWord.Rest => "rest",
        SessionWord.Paused => "paused",
        SessionWord.Done => "done",
        _ => throw new ArgumentOutOfRangeException(nameof(word), word, "No such word."),
    };

    private static string PhaseOf(SessionView view) => view.Word == SessionWord.Done ? "done" : view.Drill.Phase switch
    {
        DrillPhase.Active => "active",
        DrillPhase.Paused => "paused",
        _ => "done",
    };

    private static PageTask? TaskOf(SessionView view)
    {
        if (view.Drill.Task is not { } task || view.Task is not { } judging)
        {
            return null;
        }

        Passage whole = view.Passages[task.PassageIndex].Passage;
        bool isVariant = task.VariantCode is not null;
        Passage shown = isVariant ? judging.Passage : whole;
        MeterMark meter = judging.Passage.Meters[0];
        double quarters = judging.QuartersPerMinute ?? judging.Passage.Tempi[0].QuartersPerMinute;

        // Common practice: in 6/8, 9/8 and 12/8 three of the lower number make one beat.
        bool isCompound = meter.BeatType >= 8 && meter.Beats > 3 && meter.Beats % 3 == 0;
        double unitsPerMinute = quarters * meter.BeatType / 4;
        return new PageTask
        {
            Sentence = SentenceOf(task, whole),
            Score = ScoreAddress(view.SessionId, task),
            ShownFirst = isVariant ? 0 : task.FirstNote,
            ShownCount = isVariant ? shown.Notes.Length : task.NoteCount,
            ShownTotal = shown.Notes.Length,
            BeatsPerMinute = isCompound ? unitsPerMinute / 3 : unitsPerMinute,
            BeatsPerBar = isCompound ? meter.Beats / 3 : meter.Beats,
            FirstMidi = judging.Passage.Notes[0].MidiPitch,
            Limits = LimitsOf(judging.Tolerances),
        };
    }

    private static PageLimits LimitsOf(Tolerances limits) =>
        new(limits.Cents, limits.OnsetMs, limits.CrackMs, limits.TempoShare, TimingNames.Of(limits.Timing));

    private static string ScoreAddress(Guid sessionId, DrillTask task) => task.VariantCode is { } code
        ? string.Create(CultureInfo.InvariantCulture, $"/api/sessions/{sessionId}/score?passage={task.PassageIndex}&variant={Uri.EscapeDataString(code)}&scaling={task.Scaling}&first={task.FirstNote}&count={task.NoteCount}")
        : string.Create(CultureInfo.InvariantCulture, $"/api/sessions/{sessionId}/score?passage={task.PassageIndex}");

    private static string SentenceOf(DrillTask task, Passage whole)
    {
        PitchNames written = new(whole);
        BarMap bars = new(whole);
        string At(int index) => string.Create(CultureInfo.InvariantCulture, $"{written.NameOf(whole.Notes[index])} in bar {bars.PositionOf(whole.Notes[index].Onset).Bar}");
        int last = task.FirstNote + task.NoteCount - 1;
        string what = task.VariantCode is { } code
            ? $"Rhythm {code}"
            : task.NoteCount == whole.Notes.Length
                ? "The whole passage"
                : task.NoteCount == 1
                    ? $"One note: {At(task.FirstNote)}"
                    : string.Create(CultureInfo.InvariantCulture, $"{task.NoteCount} notes: {At(task.FirstNote)} to {At(last)}");
        string tempo = task.Tolerances.Timing == TimingMode.Off
            ? "any tempo"
            : string.Create(CultureInfo.InvariantCulture, $"♩ = {task.QuartersPerMinute ?? whole.Tempi[0].QuartersPerMinute:0}");
        return $"{what}, {tempo}";
    }
}
