using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>Notes of a passage that follow one another evenly.</summary>
/// <param name="Range">Which notes.</param>
/// <param name="Step">Quarter notes from one onset to the next; the last note's until its end.</param>
internal readonly record struct EvenRun(NoteRange Range, Fraction Step)
{
    /// <summary>Cuts a passage into its longest even runs, without gap or overlap; a run may be a single note.</summary>
    public static ImmutableArray<EvenRun> Of(ImmutableArray<PassageNote> notes)
    {
        ImmutableArray<EvenRun>.Builder runs = ImmutableArray.CreateBuilder<EvenRun>();
        for (int index = 0; index < notes.Length; index++)
        {
            Fraction step = StepOf(notes, index);
            if (runs.Count > 0 && runs[^1].Step == step && !RestsAfter(notes, index - 1))
            {
                runs[^1] = runs[^1] with { Range = runs[^1].Range with { Last = index } };
            }
            else
            {
                runs.Add(new EvenRun(new NoteRange(index, index), step));
            }
        }

        return runs.ToImmutable();
    }

    /// <summary>From the onset of a note to the next onset; of the last note, its length.</summary>
    public static Fraction StepOf(ImmutableArray<PassageNote> notes, int index) =>
        index + 1 < notes.Length ? notes[index + 1].Onset - notes[index].Onset : notes[index].Length;

    /// <summary>Whether more than half of the time until the next note is silence: a rest, not a detached note.</summary>
    public static bool RestsAfter(ImmutableArray<PassageNote> notes, int index) => notes[index].Length * 2 < StepOf(notes, index);
}
