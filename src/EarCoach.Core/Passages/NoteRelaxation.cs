namespace EarCoach.Core.Passages;

/// <summary>Makes the judge let some notes of a passage pass more easily, or takes that back.</summary>
public static class NoteRelaxation
{
    /// <summary>Whether the onsets of some notes are judged: not under a fermata, in a ritardando.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The passage has no such notes.</exception>
    public static Passage WithTiming(Passage passage, NoteRange range, bool isJudged) => Changed(passage, range, note => note with { TimingJudged = isJudged });

    /// <summary>Whether some notes must be played.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The passage has no such notes.</exception>
    /// <exception cref="ArgumentException">No note would be left that must be played.</exception>
    public static Passage WithRequired(Passage passage, NoteRange range, bool isRequired)
    {
        Passage changed = Changed(passage, range, note => note with { Required = isRequired });
        return changed.Notes.Any(note => note.Required)
            ? changed
            : throw new ArgumentException("Every note could then be left out, and nothing would be left to judge. Leave at least one note that must be played.");
    }

    internal static void RequireNotes(Passage passage, NoteRange range)
    {
        ArgumentNullException.ThrowIfNull(passage);
        if (range.First < 0 || range.Last < range.First || range.Last >= passage.Notes.Length)
        {
            throw new ArgumentOutOfRangeException(
                nameof(range), $"Notes {range.First + 1} to {range.Last + 1} are not in the passage, which has notes 1 to {passage.Notes.Length}.");
        }
    }

    private static Passage Changed(Passage passage, NoteRange range, Func<PassageNote, PassageNote> change)
    {
        RequireNotes(passage, range);
        return passage with { Notes = [.. passage.Notes.Select((note, index) => index >= range.First && index <= range.Last ? change(note) : note)] };
    }
}
