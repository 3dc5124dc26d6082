using System.Collections.Immutable;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;

namespace EarCoach.Core.Drills;

/// <summary>From a drill's task to the notes that are to be heard, and back to those of the passage.</summary>
public static class TaskPassage
{
    /// <summary>What the judge is given.</summary>
    /// <exception cref="ArgumentException">The task names a passage, notes or a rhythm that are not there.</exception>
    public static JudgingTask JudgingTaskOf(DrillTask task, ImmutableArray<Passage> passages)
    {
        Passage part = PartOf(task, passages);
        if (task.VariantCode is not null)
        {
            part = RhythmVariation.Apply(part, VariantOf(task), task.Scaling, task.Scope);
        }

        return new JudgingTask(task.HoldLast ? RhythmVariation.HoldLast(part) : part, task.QuartersPerMinute, task.Tolerances, task.A4Hz);
    }

    /// <summary>For each note of the task, which note of the passage it is, from 0. A rhythm variant may strike a note more than once.</summary>
    /// <exception cref="ArgumentException">The task names a passage, notes or a rhythm that are not there.</exception>
    public static ImmutableArray<int> PassageNotesOf(DrillTask task, ImmutableArray<Passage> passages)
    {
        Passage part = PartOf(task, passages);
        if (task.VariantCode is null)
        {
            return [.. Enumerable.Range(task.FirstNote, task.NoteCount)];
        }

        // A rhythm has no grace notes.
        int strikes = VariantOf(task).Strikes;
        ImmutableArray<bool> graces = GraceNotes.Of(part.Notes);
        int[] kept = [.. Enumerable.Range(0, task.NoteCount).Where(i => !graces[i])];
        if (strikes == 1)
        {
            return [.. kept.Select(i => task.FirstNote + i)];
        }

        // Notes are struck again in even runs only, where the variant takes only those.
        bool[] again = new bool[kept.Length];
        foreach (EvenRun run in EvenRun.Of(GraceNotes.Without(part).Notes))
        {
            Array.Fill(again, task.Scope == VariantScope.AllNotes || run.Range.Count > 1, run.Range.First, run.Range.Count);
        }

        return [.. kept.SelectMany((note, i) => Enumerable.Repeat(task.FirstNote + note, again[i] ? strikes : 1))];
    }

    private static Passage PartOf(DrillTask task, ImmutableArray<Passage> passages)
    {
        ArgumentNullException.ThrowIfNull(task);
        if (task.PassageIndex < 0 || task.PassageIndex >= passages.Length)
        {
            throw new ArgumentException($"The task is about passage {task.PassageIndex}; there are {passages.Length}, counted from 0.", nameof(task));
        }

        Passage whole = passages[task.PassageIndex];
        return task.FirstNote == 0 && task.NoteCount == whole.Notes.Length
            ? whole
            : Excerpt.OfNotes(whole, new NoteRange(task.FirstNote, task.FirstNote + task.NoteCount - 1));
    }

    private static RhythmVariant VariantOf(DrillTask task) => RhythmVariants.ByCode(task.VariantCode!)
        ?? throw new ArgumentException($"There is no rhythm variant '{task.VariantCode}'.", nameof(task));
}
