using System.Collections.Immutable;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.Midi;

/// <summary>Makes one line of notes from those of a file: cuts small legato overlaps, refuses chords, names bar and beat.</summary>
internal sealed class SmfLine(int ticksPerQuarter, BarMap bars, Fraction longestOverlap)
{
    /// <summary>The notes of a passage.</summary>
    /// <param name="notes">In order of start; at least one.</param>
    /// <exception cref="ScoreException">A chord, a note without length, a note without end.</exception>
    public ImmutableArray<PassageNote> ToNotes(ReadOnlySpan<SmfNote> notes)
    {
        ImmutableArray<PassageNote>.Builder line = ImmutableArray.CreateBuilder<PassageNote>(notes.Length);
        for (int index = 0; index < notes.Length; index++)
        {
            SmfNote note = notes[index];
            long end = EndOf(note);
            if (index + 1 < notes.Length && notes[index + 1].Start < end)
            {
                RequireLegato(note, notes[index + 1]);
                end = notes[index + 1].Start;
            }

            line.Add(new PassageNote { MidiPitch = note.Pitch, Onset = Quarters(note.Start), Length = Quarters(end - note.Start) });
        }

        return line.MoveToImmutable();
    }

    private long EndOf(SmfNote note)
    {
        if (note.End is not { } end)
        {
            throw new ScoreException(ScoreFailure.Malformed, PlaceOf(note), $"{NameOf(note)} begins here and is never ended. Export the file again.");
        }

        return end > note.Start
            ? end
            : throw new ScoreException(ScoreFailure.Malformed, PlaceOf(note), $"{NameOf(note)} has no length. Give it one in the notation program, or remove it, and export again.");
    }

    private void RequireLegato(SmfNote note, SmfNote next)
    {
        long end = EndOf(note);
        long overlap = end - next.Start;
        bool legato = next.Start > note.Start
            && EndOf(next) > end
            && Quarters(overlap) <= longestOverlap
            && overlap * 2 <= end - note.Start;
        if (!legato)
        {
            throw new ScoreException(
                ScoreFailure.Polyphony,
                PlaceOf(next),
                $"{NameOf(next)} begins while {NameOf(note)} still sounds; a passage is one line, and an overlap is cut only up to {longestOverlap} of a quarter note "
                + "and half of the earlier note. Choose another track or channel, or remove the second voice.");
        }
    }

    private string PlaceOf(SmfNote note) => bars.PositionOf(Quarters(note.Start)).ToString();

    private static string NameOf(SmfNote note) => PitchSpelling.FromMidi(note.Pitch).ToString();

    private Fraction Quarters(long ticks) => new(ticks, ticksPerQuarter);
}
