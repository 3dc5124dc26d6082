using EarCoach.Core.Judging;

namespace EarCoach.Engine.Wording;

/// <summary>The faults of an attempt in sentences: where, which note, what, by how much, and what is allowed.</summary>
/// <param name="place">Names the notes of the passage.</param>
/// <param name="passageNotes">For each note of the task, which note of the passage it is.</param>
internal sealed class FaultWording(NotePlace place, IReadOnlyList<int> passageNotes)
{
    public IEnumerable<FaultLine> LinesOf(AttemptResult attempt)
    {
        if (attempt.Verdict == Verdict.Missed && ReasonOf(attempt) is { } reason)
        {
            yield return new FaultLine(reason);
        }

        // The end of an attempt that broke off is one fact, not a fault for every note that was left.
        int heard = attempt.Notes.Length;
        while (heard > 0 && attempt.Notes[heard - 1].Faults is [NoteFault.Missing])
        {
            heard--;
        }

        bool brokeOff = attempt.Notes.Length - heard > 1;
        for (int i = 0; i < (brokeOff ? heard : attempt.Notes.Length); i++)
        {
            foreach (FaultLine line in LinesOf(attempt, attempt.Notes[i]))
            {
                yield return line;
            }
        }

        foreach (ExtraNote extra in attempt.ExtraNotes.Where(extra => !IsToldByItsNote(attempt, extra)))
        {
            int near = Math.Clamp(extra.AfterIndex, 0, attempt.Notes.Length - 1);
            string where = extra.AfterIndex < 0 ? "before the first note" : $"after {NameOf(near)}";
            yield return new FaultLine($"{where}: extra note, {place.HeardOf(extra.HeardMidi, passageNotes[near])}", near, NoteFault.Extra, IsBetweenNotes: true);
        }

        if (brokeOff && attempt.Reason != "stopped")
        {
            yield return new FaultLine(Text($"from {NameOf(heard)} on: missing, {attempt.Notes.Length - heard} notes not heard"), heard, NoteFault.Missing);
        }
    }

    private static string Text(FormattableString text) => FormattableString.Invariant(text);

    private static bool IsToldByItsNote(AttemptResult attempt, ExtraNote extra) =>
        extra.AfterIndex >= 0 && extra.AfterIndex < attempt.Notes.Length && attempt.Notes[extra.AfterIndex].Faults.Contains(NoteFault.Extra);

    private string NameOf(int taskNote) => place.Of(passageNotes[taskNote]);

    private string? ReasonOf(AttemptResult attempt)
    {
        Tolerances limits = attempt.Task.Tolerances;
        double asked = attempt.Task.QuartersPerMinute ?? attempt.Task.Passage.Tempi[0].QuartersPerMinute;
        int last = attempt.Notes.Length - 1;
        while (last >= 0 && attempt.Notes[last].OnsetSeconds is null)
        {
            last--;
        }

        return attempt.Reason switch
        {
            null => null,
            "tempo" when attempt.TempoQuartersPerMinute is { } tempo => Text(
                $"{(tempo > asked ? "too fast" : "too slow")}: {tempo:0.#} quarter notes a minute, asked {asked:0.#}; tolerance {limits.TempoShare * 100:0} %"),
            "stopped" when last >= 0 => $"stopped after {NameOf(last)}",
            { } reason => reason,
        };
    }

    private IEnumerable<FaultLine> LinesOf(AttemptResult attempt, NoteResult note)
    {
        // Flat or sharp by so much that another semitone is nearer: one sentence.
        bool isOff = note.Faults.Contains(NoteFault.Flat) || note.Faults.Contains(NoteFault.Sharp);
        bool isNearerToAnother = isOff && note.Faults.Contains(NoteFault.WrongPitch);
        foreach (NoteFault fault in note.Faults.Where(fault => !(isNearerToAnother && fault == NoteFault.WrongPitch)))
        {
            string nearer = isNearerToAnother && fault is NoteFault.Flat or NoteFault.Sharp && note.HeardMidi is { } midi
                ? $", nearer to {place.HeardOf(midi, passageNotes[note.Index])}"
                : string.Empty;
            yield return new FaultLine($"{NameOf(note.Index)}: {FaultOf(fault, note, attempt.Task.Tolerances)}{nearer}", note.Index, fault);
        }
    }

    // What breaks a rhythm need not be off the tempo line to the same side.
    private static string RhythmFaultOf(NoteFault fault, NoteResult note) => note.MsOff is { } ms && Math.Abs(ms) >= 1 && (ms > 0) == (fault == NoteFault.Late)
        ? Text($"{FaultNames.Of(fault)} by {Math.Abs(ms):0} ms")
        : FaultNames.Of(fault);

    private string FaultOf(NoteFault fault, NoteResult note, Tolerances limits) => fault switch
    {
        NoteFault.Flat or NoteFault.Sharp => Text($"{FaultNames.Of(fault)} by {Math.Abs(note.CentsOff ?? 0):0} cents; tolerance {limits.Cents:0.#}"),
        NoteFault.Early or NoteFault.Late when limits.Timing == TimingMode.Rhythm => Text($"{RhythmFaultOf(fault, note)}; {RhythmWording.LimitsOf(limits)}"),
        NoteFault.Early or NoteFault.Late => Text($"{FaultNames.Of(fault)} by {Math.Abs(note.MsOff ?? 0):0} ms; tolerance {limits.OnsetMs:0.#}"),
        NoteFault.WrongPitch => note.HeardMidi is { } midi ? $"wrong pitch, {place.HeardOf(midi, passageNotes[note.Index])} heard" : "wrong pitch",
        NoteFault.Cracked => note.CrackMs is { } ms ? Text($"cracked, another pitch for {ms:0} ms; tolerance {limits.CrackMs:0.#}") : "cracked",
        NoteFault.Missing => "missing",
        NoteFault.Extra => "struck again",
        _ => FaultNames.Of(fault),
    };
}
