using System.Collections.Immutable;
using System.Globalization;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;

namespace EarCoach.Engine.Wording;

/// <summary>Verdicts and tasks in words that a player reads: the same on the page and in the terminal.</summary>
public sealed class VerdictWording(ImmutableArray<Passage> passages)
{
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
        return report with { Headline = Headline(report), Lines = LinesOf(report, passages) };
    }

    /// <summary>The task in one sentence; "Done." where there is none.</summary>
    public string TaskSentence(DrillTask? task)
    {
        if (task is null)
        {
            return "Done.";
        }

        Passage passage = passages[task.PassageIndex];
        string what = task.NoteCount == passage.Notes.Length
            ? "the whole passage"
            : task.NoteCount == 1
                ? string.Create(CultureInfo.InvariantCulture, $"note {task.FirstNote + 1}")
                : string.Create(CultureInfo.InvariantCulture, $"notes {task.FirstNote + 1} to {task.FirstNote + task.NoteCount}");
        string tempo = task.QuartersPerMinute is { } quarters ? string.Create(CultureInfo.InvariantCulture, $" at {quarters:0.#} quarter notes a minute") : string.Empty;
        return $"{passage.Title}: {what}{tempo}.";
    }

    private static string Headline(VerdictReport report)
    {
        int faulty = report.Result.Notes.Count(note => note.Faults.Length > 0) + report.Result.ExtraNotes.Length;
        return (report.Disputed, report.Result.Verdict) switch
        {
            (true, _) => "Not counted: disputed by you.",
            (_, Verdict.Clean) => "Clean.",
            (_, Verdict.NotCounted) => $"Not counted: {report.Result.Reason ?? "it can't be judged honestly"}.",
            _ when faulty == 0 => $"Missed: {report.Result.Reason}.",
            _ => faulty == 1 ? "Missed: 1 fault." : $"Missed: {faulty} faults.",
        };
    }

    private static ImmutableArray<string> LinesOf(VerdictReport report, ImmutableArray<Passage> passages) =>
        [.. report.Result.Notes.SelectMany(note => note.Faults.Select(fault => $"{passages[report.Task.PassageIndex].Title}, note {note.Index + 1}: {FaultNames.Of(fault)}"))];
}
