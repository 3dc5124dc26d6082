using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>Grace notes of a passage: they have taken their time from the note before them, and lead to the note after them.</summary>
public static class GraceNotes
{
    /// <summary>For each note, whether it is a grace note that leads, alone or with others, straight to a note that is none.</summary>
    public static ImmutableArray<bool> Of(ImmutableArray<PassageNote> notes)
    {
        bool[] graces = new bool[notes.Length];
        for (int index = notes.Length - 2; index >= 0; index--)
        {
            PassageNote next = notes[index + 1];
            graces[index] = notes[index].IsGrace && notes[index].End == next.Onset && (graces[index + 1] || !next.IsGrace);
        }

        return [.. graces];
    }

    /// <summary>The passage without its grace notes; the note before them has its time back.</summary>
    public static Passage Without(Passage passage)
    {
        ArgumentNullException.ThrowIfNull(passage);
        ImmutableArray<bool> graces = Of(passage.Notes);
        if (!graces.Contains(true))
        {
            return passage;
        }

        ImmutableArray<PassageNote>.Builder kept = ImmutableArray.CreateBuilder<PassageNote>();
        for (int index = 0; index < passage.Notes.Length; index++)
        {
            PassageNote note = passage.Notes[index];
            if (graces[index])
            {
                continue;
            }

            bool lends = index + 1 < graces.Length && graces[index + 1] && note.End == passage.Notes[index + 1].Onset;
            int next = index + 1;
            while (lends && graces[next])
            {
                next++;
            }

            bool joined = note.SlurredFromPrevious && kept.Count > 0 && kept[^1].End == note.Onset;
            kept.Add(note with { Length = lends ? passage.Notes[next].Onset - note.Onset : note.Length, SlurredFromPrevious = joined });
        }

        return passage with { Notes = kept.ToImmutable() };
    }
}
