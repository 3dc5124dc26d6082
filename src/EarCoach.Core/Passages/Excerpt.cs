using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>Cuts a part of a passage out. Bar numbers, beats, metre, tempo and key stay those of the part.</summary>
/// <remarks>An excerpt begins where the bar of its first note begins, so that every note keeps its bar and beat; what is left out before the first
/// note is silence. A slur into the first note is dropped.</remarks>
public static class Excerpt
{
    /// <summary>From note to note.</summary>
    /// <param name="passage">The whole.</param>
    /// <param name="range">Indices counted from 0, both included.</param>
    /// <exception cref="ArgumentOutOfRangeException">The passage has no such notes.</exception>
    public static Passage OfNotes(Passage passage, NoteRange range)
    {
        ArgumentNullException.ThrowIfNull(passage);
        if (range.First < 0 || range.Last < range.First || range.Last >= passage.Notes.Length)
        {
            throw new ArgumentOutOfRangeException(
                nameof(range), range, $"Notes {range.First + 1} to {range.Last + 1} are not in the passage, which has notes 1 to {passage.Notes.Length}.");
        }

        BarMap bars = new(passage);
        int firstBar = bars.PositionOf(passage.Notes[range.First].Onset).Bar;
        bool inPickup = firstBar < passage.FirstBarNumber;
        Fraction start = bars.StartOf(firstBar);
        Fraction end = passage.Notes[range.Last].End;
        return passage with
        {
            Notes = [.. Enumerable.Range(range.First, range.Count).Select(index => passage.Notes[index] with
            {
                Onset = passage.Notes[index].Onset - start,
                SlurredFromPrevious = index > range.First && passage.Notes[index].SlurredFromPrevious,
            })],
            Meters = inPickup
                ? [.. passage.Meters.Where(mark => mark.At < end)]
                : [bars.MeterOf(firstBar) with { At = Fraction.Zero }, .. Between(passage.Meters, mark => mark.At).Select(mark => mark with { At = mark.At - start })],
            Tempi =
            [
                passage.Tempi.Last(mark => mark.At <= start) with { At = Fraction.Zero },
                .. Between(passage.Tempi, mark => mark.At).Select(mark => mark with { At = mark.At - start }),
            ],
            Transpositions =
            [
                .. passage.Transpositions.Where(mark => mark.At <= start).TakeLast(1).Select(mark => mark with { At = Fraction.Zero }),
                .. Between(passage.Transpositions, mark => mark.At).Select(mark => mark with { At = mark.At - start }),
            ],
            Pickup = inPickup ? passage.Pickup : Fraction.Zero,
            FirstBarNumber = inPickup ? passage.FirstBarNumber : firstBar,
        };

        IEnumerable<T> Between<T>(ImmutableArray<T> marks, Func<T, Fraction> placeOf) => marks.Where(mark => placeOf(mark) > start && placeOf(mark) < end);
    }

    /// <summary>The notes that begin in some bars.</summary>
    /// <param name="passage">The whole.</param>
    /// <param name="firstBar">Bar number as in the part.</param>
    /// <param name="lastBar">Bar number as in the part, included.</param>
    /// <exception cref="ArgumentException">No note begins there.</exception>
    public static Passage OfBars(Passage passage, int firstBar, int lastBar)
    {
        BarMap bars = new(passage);
        return OfNotes(passage, RangeWhere(
            passage,
            note => bars.PositionOf(note.Onset).Bar is var bar && bar >= firstBar && bar <= lastBar,
            firstBar == lastBar ? $"in bar {firstBar}" : $"in bars {firstBar} to {lastBar}"));
    }

    /// <summary>The notes that begin at one place or after it, up to and including another.</summary>
    /// <param name="passage">The whole.</param>
    /// <param name="from">First place.</param>
    /// <param name="to">Last place, included.</param>
    /// <exception cref="ArgumentException">No note begins there.</exception>
    public static Passage OfPlaces(Passage passage, BarPosition from, BarPosition to)
    {
        BarMap bars = new(passage);
        return OfNotes(passage, RangeWhere(
            passage,
            note => bars.PositionOf(note.Onset) is var at && Compare(at, from) >= 0 && Compare(at, to) <= 0,
            $"from {from} to {to}"));
    }

    private static NoteRange RangeWhere(Passage passage, Predicate<PassageNote> isInside, string words)
    {
        PassageNote[] inside = [.. passage.Notes.Where(note => isInside(note))];
        if (inside.Length == 0)
        {
            BarMap bars = new(passage);
            throw new ArgumentException(
                $"No note begins {words}. The passage goes from {bars.PositionOf(passage.Notes[0].Onset)} to {bars.PositionOf(passage.Notes[^1].Onset)}.",
                nameof(passage));
        }

        int first = passage.Notes.IndexOf(inside[0]);
        return new NoteRange(first, first + inside.Length - 1);
    }

    private static int Compare(BarPosition a, BarPosition b) => a.Bar != b.Bar ? a.Bar.CompareTo(b.Bar) : a.Beat.CompareTo(b.Beat);
}
