using System.Collections.Immutable;
using System.Globalization;
using EarCoach.App.Verdicts;
using EarCoach.App.Web.Messages;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;
using EarCoach.Engine.Wording;

namespace EarCoach.App.Web.Practice;

/// <summary>From a session to what the page shows of it.</summary>
internal static class PageViews
{
    /// <summary>The session as it is.</summary>
    public static PageView Of(SessionView view)
    {
        int shown = view.Drill.Task?.PassageIndex ?? view.LastVerdict?.Task.PassageIndex ?? 0;
        Passage passage = view.Passages[shown].Passage;
        return new PageView
        {
            SessionId = view.SessionId,
            Word = WordOf(view.Word),
            Passage = new PagePassage(passage.Title, InstrumentTable.ById(passage.InstrumentId)?.Name ?? "", TranspositionOf(passage)),
            Drill = new PageDrill
            {
                Kind = DrillKindNames.Of(view.Drill.Kind),
                Name = DrillWording.NameOf(view.Drill.Kind),
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
    /// <param name="sessionId">The session.</param>
    /// <param name="report">The verdict.</param>
    /// <param name="passages">The session's passages.</param>
    /// <param name="place">Its place among the attempts, from 1; 0: not told.</param>
    public static PageAttempt AttemptOf(Guid sessionId, VerdictReport report, IReadOnlyList<SessionPassage> passages, int place = 0)
    {
        AttemptResult result = report.Result;
        VerdictWording wording = new([.. passages.Select(passage => passage.Passage)]);
        Passage judged = result.Task.Passage;
        Passage whole = passages[report.Task.PassageIndex].Passage;
        BarMap bars = new(whole);
        bool isAltered = ShownScore.IsAltered(report.Task);
        int ShownIndex(int index) => isAltered ? index : report.PassageNotes[index];

        return new PageAttempt
        {
            Number = report.Number,
            Place = place,
            At = report.At,
            Start = result.StartSeconds,
            End = result.EndSeconds,
            Verdict = FaultNames.Of(report.Disputed ? Verdict.NotCounted : result.Verdict),
            Reason = report.Disputed ? "disputed" : result.Reason,
            Headline = report.Headline,
            Sentence = wording.TaskSentence(report.Task),
            Faults = [.. wording.FaultsOf(result, report.Task.PassageIndex, report.PassageNotes).Select(fault => new PageFault(
                fault.Sentence, fault.TaskNote is { } note ? ShownIndex(note) : null, fault.Fault is { } kind ? FaultNames.Of(kind) : null, fault.IsBetweenNotes))],
            TempoBpm = result.TempoQuartersPerMinute,
            AskedBpm = result.Task.QuartersPerMinute ?? judged.Tempi[0].QuartersPerMinute,
            TuningCents = result.TuningCents,
            Limits = LimitsOf(result.Task.Tolerances),
            Score = ShownScore.AddressOf(sessionId, report.Task),
            ShownFirst = isAltered ? 0 : report.Task.FirstNote,
            ShownCount = judged.Notes.Length,
            ShownTotal = isAltered ? judged.Notes.Length : whole.Notes.Length,
            Clip = string.Create(CultureInfo.InvariantCulture, $"/api/sessions/{sessionId}/attempts/{report.Number}/clip"),
            Notes = [.. result.Notes.Select(note => NoteJson.Of(note, bars.PositionOf(whole.Notes[report.PassageNotes[note.Index]].Onset)))],
            ExtraNotes = [.. result.ExtraNotes.Select(ExtraNoteJson.Of)],
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

    /// <summary>Written minus sounding pitch at the start of a passage, in semitones.</summary>
    public static int TranspositionOf(Passage passage) => -WrittenPitch.TranspositionAt(passage, Fraction.Zero).Semitones;

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

        ImmutableArray<Passage> passages = [.. view.Passages.Select(passage => passage.Passage)];
        bool isAltered = ShownScore.IsAltered(task);
        MeterMark meter = judging.Passage.Meters[0];
        double quarters = judging.QuartersPerMinute ?? judging.Passage.Tempi[0].QuartersPerMinute;

        // Common practice: in 6/8, 9/8 and 12/8 three of the lower number make one beat.
        bool isCompound = meter.BeatType >= 8 && meter.Beats > 3 && meter.Beats % 3 == 0;
        double unitsPerMinute = quarters * meter.BeatType / 4;
        return new PageTask
        {
            Sentence = view.TaskSentence,
            Score = ShownScore.AddressOf(view.SessionId, task),
            ShownFirst = isAltered ? 0 : task.FirstNote,
            ShownCount = judging.Passage.Notes.Length,
            ShownTotal = isAltered ? judging.Passage.Notes.Length : passages[task.PassageIndex].Notes.Length,
            BeatsPerMinute = isCompound ? unitsPerMinute / 3 : unitsPerMinute,
            BeatsPerBar = isCompound ? meter.Beats / 3 : meter.Beats,
            FirstMidi = judging.Passage.Notes[0].MidiPitch,
            Limits = LimitsOf(judging.Tolerances),
        };
    }

    private static PageLimits LimitsOf(Tolerances limits) =>
        new(limits.Cents, limits.OnsetMs, limits.CrackMs, limits.TempoShare, TimingNames.Of(limits.Timing), limits.LongRatio, limits.EvenShare);
}
