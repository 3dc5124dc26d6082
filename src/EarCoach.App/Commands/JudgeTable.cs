using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine.Wording;

namespace EarCoach.App.Commands;

/// <summary>Writes verdicts as lines that a player reads.</summary>
internal sealed class JudgeTable(JudgeReport report) : IJudgeWriter
{
    private readonly VerdictWording _wording = new([report.Task.Passage]);
    private readonly int[] _everyNote = [.. Enumerable.Range(0, report.Task.Passage.Notes.Length)];

    public void Begin(TextWriter output)
    {
        Passage passage = report.Task.Passage;
        string instrument = InstrumentTable.ById(passage.InstrumentId) is { } known ? Text($" for {Lower(known.Name)}") : string.Empty;
        output.WriteLine(Text($"{passage.Title}{instrument}: {Count(passage.Notes.Length, "note")}, {Bars()}"));
        output.WriteLine(ToleranceSentence.Of(report.Task, report.AskedTempo));
        output.WriteLine();
    }

    public void Attempt(TextWriter output, AttemptResult attempt, int number)
    {
        string[] lines = attempt.Verdict == Verdict.NotCounted && attempt.Reason is { } reason
            ? [reason]
            : [.. _wording.LinesOf(attempt, 0, _everyNote)];
        output.WriteLine(RowOf(number, attempt, lines.FirstOrDefault()));
        foreach (string line in lines.Skip(1))
        {
            output.WriteLine($"{string.Empty,28}{line}");
        }
    }

    public void End(TextWriter output)
    {
        if (report.Attempts.Count == 0)
        {
            output.WriteLine(Text($"No attempt was heard in {report.HeardSeconds:0.0} seconds of sound."));
            return;
        }

        string notCounted = report.NotCounted > 0 ? Text($", {report.NotCounted} not counted") : string.Empty;
        output.WriteLine();
        output.WriteLine(Text(
            $"{Count(report.Attempts.Count, "attempt")}: {report.Clean} clean, {report.Missed} missed{notCounted}. Best run of clean ones: {report.BestRun}."));
    }

    /// <summary>The line of an attempt: its number, when it began, its verdict, and the first thing to say about it.</summary>
    public static string RowOf(int number, AttemptResult attempt, string? words) =>
        Text($"{number,3}  {Clock(attempt.StartSeconds),8}  {Word(attempt.Verdict),-11}  {words}").TrimEnd();

    private static string Lower(string name) => char.ToLowerInvariant(name[0]) + name[1..];

    private static string Word(Verdict verdict) => verdict == Verdict.NotCounted ? "not counted" : FaultNames.Of(verdict);

    private static string Count(int count, string noun) => Text($"{count} {noun}{(count == 1 ? string.Empty : "s")}");

    private static string Clock(double seconds)
    {
        long tenths = (long)Math.Round(seconds * 10);
        return Text($"{tenths / 600}:{tenths / 10 % 60:00}.{tenths % 10}");
    }

    private static string Text(FormattableString text) => FormattableString.Invariant(text);

    private string Bars()
    {
        int first = report.Bars.PositionOf(report.Task.Passage.Notes[0].Onset).Bar;
        int last = report.Bars.PositionOf(report.Task.Passage.Notes[^1].Onset).Bar;
        string pickup = first < report.Task.Passage.FirstBarNumber && last > first ? "pickup and " : string.Empty;
        first += pickup.Length > 0 ? 1 : 0;
        return first == last ? Text($"{pickup}bar {first}") : Text($"{pickup}bars {first} to {last}");
    }
}
