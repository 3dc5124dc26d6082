using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>What must hold of a passage before it can be judged, shown or written.</summary>
public static class PassageRules
{
    private const int MostBeats = 255; // what one byte of a Standard MIDI File can hold

    /// <summary>Every rule the passage breaks, in words; empty when it is sound.</summary>
    public static IReadOnlyList<string> Problems(Passage passage)
    {
        ArgumentNullException.ThrowIfNull(passage);
        return [.. NoteProblems(passage.Notes), .. MeterProblems(passage), .. TempoProblems(passage.Tempi), .. FrameProblems(passage)];
    }

    /// <summary>Throws where the passage breaks a rule.</summary>
    /// <exception cref="ArgumentException">The first broken rule.</exception>
    public static void ThrowIfBroken(Passage passage)
    {
        if (Problems(passage) is [string first, ..])
        {
            throw new ArgumentException(first, nameof(passage));
        }
    }

    private static IEnumerable<string> NoteProblems(ImmutableArray<PassageNote> notes)
    {
        if (notes.IsDefaultOrEmpty)
        {
            yield return "The passage has no notes; it needs at least one.";
            yield break;
        }

        if (notes[0].SlurredFromPrevious)
        {
            yield return "Note 1 is slurred from the note before it, and there is none.";
        }

        Fraction soundingUntil = Fraction.Zero;
        for (int index = 0; index < notes.Length; index++)
        {
            PassageNote note = notes[index];
            if (note.MidiPitch is < 0 or > 127)
            {
                yield return $"Note {index + 1} has MIDI pitch {note.MidiPitch}; 0 to 127 exist.";
            }

            if (note.Length <= Fraction.Zero)
            {
                yield return $"Note {index + 1} is {note.Length} quarter notes long; a note needs a length above 0.";
            }

            if (note.Onset < soundingUntil)
            {
                yield return $"Note {index + 1} begins at {note.Onset}, before the note before it ends at {soundingUntil}; a passage is one line.";
            }

            soundingUntil = note.End;
        }
    }

    private static IEnumerable<string> MeterProblems(Passage passage)
    {
        ImmutableArray<MeterMark> meters = passage.Meters;
        if (meters.IsDefaultOrEmpty || meters[0].At != Fraction.Zero)
        {
            yield return "The first metre mark must stand at 0.";
            yield break;
        }

        for (int index = 0; index < meters.Length; index++)
        {
            MeterMark mark = meters[index];
            if (mark.Beats is < 1 or > MostBeats || mark.BeatType is not (1 or 2 or 4 or 8 or 16 or 32 or 64))
            {
                yield return $"The metre {mark.Beats}/{mark.BeatType} is none: 1 to {MostBeats} beats of 1, 2, 4, 8, 16, 32 or 64 exist.";
            }

            if (index > 0 && (mark.At <= meters[index - 1].At || mark.At <= passage.Pickup))
            {
                yield return $"The metre mark at {mark.At} must come after the one before it and after the pickup.";
            }
        }
    }

    private static IEnumerable<string> TempoProblems(ImmutableArray<TempoMark> tempi)
    {
        if (tempi.IsDefaultOrEmpty || tempi[0].At != Fraction.Zero)
        {
            yield return "The first tempo mark must stand at 0.";
            yield break;
        }

        for (int index = 0; index < tempi.Length; index++)
        {
            if (!double.IsFinite(tempi[index].QuartersPerMinute) || tempi[index].QuartersPerMinute <= 0)
            {
                yield return $"A tempo of {tempi[index].QuartersPerMinute} quarter notes a minute is none; it must be above 0.";
            }

            if (index > 0 && tempi[index].At <= tempi[index - 1].At)
            {
                yield return $"The tempo mark at {tempi[index].At} must come after the one before it.";
            }
        }
    }

    private static IEnumerable<string> FrameProblems(Passage passage)
    {
        if (passage.KeyFifths is < -7 or > 7)
        {
            yield return $"The key signature has {passage.KeyFifths} sharps; -7 (flats) to 7 exist.";
        }

        if (!passage.Meters.IsDefaultOrEmpty
            && (passage.Pickup < Fraction.Zero || (passage.Meters[0].BeatType > 0 && passage.Pickup >= passage.Meters[0].BarLength)))
        {
            yield return $"The pickup is {passage.Pickup} quarter notes long; it must be shorter than a bar.";
        }

        if (passage.Transpositions.IsDefault || passage.Transpositions.Zip(passage.Transpositions.Skip(1)).Any(pair => pair.Second.At <= pair.First.At))
        {
            yield return "The transposition marks must stand in order of place, no two at one place.";
        }
    }
}
