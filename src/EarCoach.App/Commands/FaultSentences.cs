using EarCoach.Core.Judging;

namespace EarCoach.App.Commands;

/// <summary>Says what was wrong with an attempt: where, which note, what, by how much, and how much is allowed.</summary>
internal sealed class FaultSentences(JudgeReport report)
{
    /// <summary>What the attempts are judged by.</summary>
    public string Tolerances()
    {
        Tolerances limits = report.Task.Tolerances;
        string pitch = limits.Cents is { } cents ? Text($"pitch within {cents:0.#} cents (A is {report.Task.A4Hz:0.#} Hz)") : "the right semitone";
        string timing = limits.Timing switch
        {
            TimingMode.Off => "timing not judged",
            TimingMode.Fitted => Text($"starts within {limits.OnsetMs:0} ms of a steady tempo near {report.AskedTempo:0.#} (quarter notes a minute, {limits.TempoShare * 100:0} % either way)"),
            _ => Text($"starts within {limits.OnsetMs:0} ms of {report.AskedTempo:0.#} quarter notes a minute"),
        };
        return Text($"{pitch}; {timing}; cracks up to {limits.CrackMs:0} ms forgiven");
    }

    /// <summary>The sentences for one attempt, one a fault; none for a clean one.</summary>
    public IEnumerable<string> Of(AttemptResult attempt)
    {
        if (attempt.Reason is { } reason)
        {
            yield return Reason(attempt, reason);
        }

        int unplayed = attempt.Notes.Length;
        while (unplayed > 0 && attempt.Notes[unplayed - 1].Faults is [NoteFault.Missing])
        {
            unplayed--;
        }

        bool collapsed = attempt.Notes.Length - unplayed > 1;
        foreach (NoteResult note in collapsed ? attempt.Notes[..unplayed] : attempt.Notes)
        {
            bool nearer = note.Faults.Contains(NoteFault.WrongPitch) && (note.Faults.Contains(NoteFault.Flat) || note.Faults.Contains(NoteFault.Sharp));
            foreach (NoteFault fault in note.Faults.Where(fault => !(nearer && fault == NoteFault.WrongPitch)))
            {
                string also = nearer && note.HeardMidi is { } midi && fault is NoteFault.Flat or NoteFault.Sharp ? $" (nearer to {report.Names.OfHeard(midi, note.Index)})" : string.Empty;
                yield return $"{Place(note.Index)}  {report.Names.Of(note.Index)}: {Fault(note, fault)}{also}";
            }
        }

        if (collapsed && attempt.Reason != "stopped")
        {
            yield return Text($"{Place(unplayed)} to the end: {FaultNames.Of(NoteFault.Missing)}, {attempt.Notes.Length - unplayed} notes were not heard");
        }

        foreach (ExtraNote extra in attempt.ExtraNotes)
        {
            bool told = extra.AfterIndex >= 0 && extra.AfterIndex < attempt.Notes.Length && attempt.Notes[extra.AfterIndex].Faults.Contains(NoteFault.Extra);
            if (!told)
            {
                int near = Math.Clamp(extra.AfterIndex, 0, attempt.Notes.Length - 1);
                string where = extra.AfterIndex < 0 ? "before the first note" : $"after {Place(near)}";
                yield return $"{where}  {report.Names.OfHeard(extra.HeardMidi, near)}: {FaultNames.Of(NoteFault.Extra)}, not in the passage";
            }
        }
    }

    private static string Text(FormattableString text) => FormattableString.Invariant(text);

    private string Place(int index) => report.Bars.PositionOf(report.Task.Passage.Notes[index].Onset).ToString();

    private string Reason(AttemptResult attempt, string reason) => reason switch
    {
        "tempo" when attempt.TempoQuartersPerMinute is { } tempo => Text(
            $"tempo: {tempo:0.#} quarter notes a minute instead of {report.AskedTempo:0.#}; {report.Task.Tolerances.TempoShare * 100:0} % either way is allowed"),
        "stopped" when attempt.Notes.LastOrDefault(note => note.OnsetSeconds is not null) is { } last => $"stopped after {Place(last.Index)}",
        _ => reason,
    };

    private string Fault(NoteResult note, NoteFault fault)
    {
        Tolerances limits = report.Task.Tolerances;
        string name = FaultNames.Of(fault);
        return fault switch
        {
            NoteFault.Flat or NoteFault.Sharp => Text($"{name} by {Math.Abs(note.CentsOff ?? 0):0} cents, {limits.Cents:0.#} allowed"),
            NoteFault.Early or NoteFault.Late => Text($"{name} by {Math.Abs(note.MsOff ?? 0):0} ms, {limits.OnsetMs:0} allowed"),
            NoteFault.Cracked => note.CrackMs is { } ms ? Text($"{name}, another pitch sounded for {ms:0} ms, {limits.CrackMs:0} forgiven") : name,
            NoteFault.WrongPitch => note.HeardMidi is { } midi ? $"{name}, heard {report.Names.OfHeard(midi, note.Index)}" : name,
            NoteFault.Missing => $"{name}, not heard",
            NoteFault.Extra => $"{name}, struck again",
            _ => name,
        };
    }
}
