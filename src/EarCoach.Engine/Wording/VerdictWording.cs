using System.Collections.Immutable;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;

namespace EarCoach.Engine.Wording;

/// <summary>Verdicts and tasks in words that a player reads: the same on the page and in the terminal.</summary>
public sealed class VerdictWording
{
    private readonly ImmutableArray<Passage> _passages;
    private readonly ImmutableArray<NotePlace> _places;

    /// <summary>Words for attempts at these passages.</summary>
    public VerdictWording(ImmutableArray<Passage> passages)
    {
        _passages = passages;
        _places = [.. passages.Select(passage => new NotePlace(passage))];
    }

    /// <summary>A stored attempt as a report.</summary>
    public VerdictReport ReportOf(JudgedAttempt attempt)
    {
        ArgumentNullException.ThrowIfNull(attempt);
        return ReportOf(new VerdictReport(
            attempt.Number, attempt.At, attempt.Task, attempt.Result, attempt.PassageNotes, attempt.Disputed, Headline: string.Empty, Lines: []));
    }

    /// <summary>The same report with its words made anew.</summary>
    public VerdictReport ReportOf(VerdictReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return report with
        {
            Headline = HeadlineOf(report.Result, report.Disputed),
            Lines = LinesOf(report.Result, report.Task.PassageIndex, report.PassageNotes),
        };
    }

    /// <summary>One short sentence: "Clean.", "Missed: 2 faults.", "Not counted: a false start."</summary>
    public static string HeadlineOf(AttemptResult result, bool disputed = false)
    {
        ArgumentNullException.ThrowIfNull(result);
        int faults = result.Notes.Sum(note => note.Faults.Length)
            + result.ExtraNotes.Count(extra => extra.AfterIndex < 0 || extra.AfterIndex >= result.Notes.Length || !result.Notes[extra.AfterIndex].Faults.Contains(NoteFault.Extra));
        return (disputed, result.Verdict, result.Reason) switch
        {
            (true, _, _) => "Not counted: disputed by you.",
            (_, Verdict.Clean, _) => "Clean.",
            (_, Verdict.NotCounted, { } reason) => $"Not counted: {WhyNotCounted(reason)}.",
            (_, Verdict.NotCounted, null) => "Not counted: it can't be judged honestly.",
            (_, _, "tempo") => "Missed: tempo.",
            (_, _, "stopped") => "Missed: you stopped.",
            _ => faults == 1 ? "Missed: 1 fault." : FormattableString.Invariant($"Missed: {faults} faults."),
        };
    }

    /// <summary>A reason for not counting an attempt in the player's words; one that is not known stands as it is.</summary>
    public static string WhyNotCounted(string reason) => reason switch
    {
        NotCountedReasons.Gap => "sound was lost on the way while you played",
        NotCountedReasons.FalseStart => "a false start",
        NotCountedReasons.Noise => "a noise covered what you played",
        NotCountedReasons.RoomNoise => "the room is nearly as loud as your playing; move the microphone nearer or quieten the room",
        NotCountedReasons.Clipping => "the sound was too loud to be recorded; move the microphone away or turn it down",
        NotCountedReasons.SomethingElse => "you played something else",
        NotCountedReasons.FromWithin => "you began within the task, not at its beginning",
        NotCountedReasons.PlayedOn => "you played on past the end of the task",
        _ => reason,
    };

    /// <summary>What was wrong, a sentence a fault: "bar 3, second note (written G4): flat by 34 cents; tolerance 25".</summary>
    /// <param name="result">The attempt.</param>
    /// <param name="passageIndex">Which of the passages, from 0.</param>
    /// <param name="passageNotes">For each note of the task, which note of the passage it is, from 0.</param>
    public IReadOnlyList<string> LinesOf(AttemptResult result, int passageIndex, IReadOnlyList<int> passageNotes) =>
        [.. FaultsOf(result, passageIndex, passageNotes).Select(fault => fault.Sentence)];

    /// <summary>The same, each with the note it is about: for marks on the notation.</summary>
    /// <param name="result">The attempt.</param>
    /// <param name="passageIndex">Which of the passages, from 0.</param>
    /// <param name="passageNotes">For each note of the task, which note of the passage it is, from 0.</param>
    public IReadOnlyList<FaultLine> FaultsOf(AttemptResult result, int passageIndex, IReadOnlyList<int> passageNotes)
    {
        ArgumentNullException.ThrowIfNull(result);
        return [.. new FaultWording(_places[passageIndex], passageNotes).LinesOf(result)];
    }

    /// <summary>The task in one sentence; "Done." where there is none.</summary>
    public string TaskSentence(DrillTask? task)
    {
        if (task is null)
        {
            return "Done.";
        }

        Passage passage = _passages[task.PassageIndex];
        string rhythm = task.VariantCode is { } code && RhythmVariants.ByCode(code) is { } variant
            ? $", {variant.Name}{(task.Scaling == VariantScaling.ShortsAtTarget ? ", short notes at the tempo" : string.Empty)}"
            : string.Empty;
        string held = task.HoldLast ? ", hold the last" : string.Empty;
        string tempo = task.Tolerances.Timing != TimingMode.Off
            ? $", {TempoOf(passage, task.QuartersPerMinute ?? passage.Tempi[0].QuartersPerMinute)}"
            : string.Empty;
        return $"{passage.Title}: {PartOf(task, passage)}{rhythm}{held}{tempo}.";
    }

    /// <summary>A tempo as musicians give it, by the beat of the metre: "quarter note = 96", "dotted quarter note = 60", "half note = 72".</summary>
    /// <param name="passage">Whose first metre counts.</param>
    /// <param name="quartersPerMinute">Quarter notes a minute.</param>
    public static string TempoOf(Passage passage, double quartersPerMinute)
    {
        ArgumentNullException.ThrowIfNull(passage);
        MeterMark meter = passage.Meters[0];
        bool isCompound = meter.BeatType >= 8 && meter.Beats > 3 && meter.Beats % 3 == 0; // common practice
        (string Name, double Quarters) beat = (meter.BeatType, isCompound) switch
        {
            (2, _) => ("half note", 2),
            (8, true) => ("dotted quarter note", 1.5),
            (16, true) => ("dotted eighth note", 0.75),
            _ => ("quarter note", 1),
        };
        return FormattableString.Invariant($"{beat.Name} = {quartersPerMinute / beat.Quarters:0.#}");
    }

    private string PartOf(DrillTask task, Passage passage)
    {
        NotePlace place = _places[task.PassageIndex];
        int last = task.FirstNote + task.NoteCount - 1;
        return task.NoteCount == passage.Notes.Length
            ? "the whole passage"
            : task.NoteCount == 1
                ? place.Of(task.FirstNote)
                : FormattableString.Invariant($"{task.NoteCount} notes, from {place.PlaceOf(task.FirstNote)} to {place.PlaceOf(last)}");
    }
}
