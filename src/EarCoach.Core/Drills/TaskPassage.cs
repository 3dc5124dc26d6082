using System.Collections.Immutable;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;

namespace EarCoach.Core.Drills;

/// <summary>From a drill's task to the notes that are to be heard.</summary>
public static class TaskPassage
{
    /// <summary>What the judge is given.</summary>
    /// <exception cref="ArgumentException">The task names notes or a passage that are not there.</exception>
    public static JudgingTask JudgingTaskOf(DrillTask task, ImmutableArray<Passage> passages)
    {
        ArgumentNullException.ThrowIfNull(task);
        if (task.PassageIndex < 0 || task.PassageIndex >= passages.Length)
        {
            throw new ArgumentException($"The task is about passage {task.PassageIndex}; there are {passages.Length}.", nameof(task));
        }

        Passage whole = passages[task.PassageIndex];
        if (task.FirstNote < 0 || task.NoteCount < 1 || task.FirstNote + task.NoteCount > whole.Notes.Length)
        {
            throw new ArgumentException(
                $"The task is notes {task.FirstNote} to {task.FirstNote + task.NoteCount - 1}; the passage has notes 0 to {whole.Notes.Length - 1}.", nameof(task));
        }

        return new JudgingTask(Cut(whole, task.FirstNote, task.NoteCount), task.QuartersPerMinute, task.Tolerances, task.A4Hz);
    }

    /// <summary>For each note of the task, which note of the passage it is, from 0.</summary>
    public static ImmutableArray<int> PassageNotesOf(DrillTask task, ImmutableArray<Passage> passages)
    {
        ArgumentNullException.ThrowIfNull(task);
        return [.. Enumerable.Range(task.FirstNote, task.NoteCount)];
    }

    private static Passage Cut(Passage whole, int first, int count)
    {
        if (first == 0 && count == whole.Notes.Length)
        {
            return whole;
        }

        Fraction start = whole.Notes[first].Onset;
        return whole with
        {
            Notes = [.. whole.Notes.Skip(first).Take(count).Select((note, i) => note with
            {
                Onset = note.Onset - start,
                SlurredFromPrevious = i > 0 && note.SlurredFromPrevious,
            })],
        };
    }
}
