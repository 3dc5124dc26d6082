using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;
using EarCoach.Engine.Wording;

namespace EarCoach.App.Commands;

/// <summary>Writes a drill as lines that a player reads.</summary>
internal sealed class DrillTable(TextWriter output) : IDrillWriter
{
    private const int Indent = 28;
    private string _task = string.Empty;
    private Tolerances? _limits;
    private string? _rest;
    private string? _hint;
    private int _attempts;
    private bool _paused;

    public void Begin(SessionView view)
    {
        foreach (SessionPassage passage in view.Passages)
        {
            output.WriteLine(TitleOf(passage.Passage));
        }

        output.WriteLine($"{DrillWording.NameOf(view.Drill.Kind)}: {DrillWording.CountOf(view.Drill)}.");
        TellLimits(view);
        output.WriteLine();
        TellTask(view);
        output.Flush();
    }

    public void Verdict(VerdictReport report, IReadOnlyList<DrillEffect> effects, SessionView view)
    {
        _attempts++;
        string[] lines = report.Result is { Verdict: Core.Judging.Verdict.NotCounted, Reason: { } reason } ? [VerdictWording.WhyNotCounted(reason)] : [.. report.Lines];
        output.WriteLine(JudgeTable.RowOf(_attempts, report.Result, lines.FirstOrDefault()));
        foreach (string line in lines.Skip(1).Append($"-> {DrillWording.CountOf(view.Drill)}"))
        {
            Line(line);
        }

        Follow(view);
    }

    public void Changed(IReadOnlyList<DrillEffect> effects, SessionView view)
    {
        if (effects.Any(effect => effect is DrillEffect.TakenBack))
        {
            Line($"Disputed: not counted. -> {DrillWording.CountOf(view.Drill)}");
        }

        if (_paused != (view.Word == SessionWord.Paused))
        {
            _paused = !_paused;
            Line(_paused ? "Paused." : "Going on.");
        }

        Follow(view);
    }

    public void End(SessionView view, bool stopped)
    {
        AttemptTally tally = view.Drill.Tally;
        string apart = tally.NotCounted + tally.Disputed > 0 ? Text($", {tally.NotCounted + tally.Disputed} not counted") : string.Empty;
        output.WriteLine();
        output.WriteLine(Text($"{tally.All} attempt{(tally.All == 1 ? string.Empty : "s")}: {tally.Clean} clean, {tally.Missed} missed{apart}. {DrillWording.CountOf(view.Drill)}."));
        if (stopped)
        {
            output.WriteLine("Stopped. Everything that was shown is kept; go on with: earcoach drill --go-on");
        }

        output.Flush();
    }

    private static string Text(FormattableString text) => FormattableString.Invariant(text);

    private static string TitleOf(Passage passage)
    {
        string instrument = InstrumentTable.ById(passage.InstrumentId) is { } known ? $" for {char.ToLowerInvariant(known.Name[0])}{known.Name[1..]}" : string.Empty;
        return Text($"{passage.Title}{instrument}: {passage.Notes.Length} note{(passage.Notes.Length == 1 ? string.Empty : "s")}");
    }

    private void Follow(SessionView view)
    {
        if (view.Rest?.Sentence is { } rest && rest != _rest)
        {
            Line(rest);
        }

        if (view.Hint is { } hint && hint != _hint)
        {
            Line(hint);
        }

        (_rest, _hint) = (view.Rest?.Sentence, view.Hint);
        TellTask(view);
        output.Flush(); // a player waits for it
    }

    private void TellTask(SessionView view)
    {
        if (view.Drill.Task is not null && view.TaskSentence != _task)
        {
            TellLimits(view);
            _task = view.TaskSentence;
            output.WriteLine($"Play {_task}");
        }
    }

    /// <summary>What attempts are judged by, at first and when another kind of task changes it.</summary>
    private void TellLimits(SessionView view)
    {
        if (view.Task is { } task && task.Tolerances != _limits)
        {
            _limits = task.Tolerances;
            output.WriteLine(ToleranceSentence.Of(task, task.QuartersPerMinute ?? task.Passage.Tempi[0].QuartersPerMinute));
        }
    }

    private void Line(string text) => output.WriteLine($"{string.Empty,Indent}{text}");
}
