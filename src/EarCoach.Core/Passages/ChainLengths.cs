using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>The growing lengths of a chain: one note, then two, and so on; each holds the one before it.</summary>
public static class ChainLengths
{
    /// <summary>Every length from the first step to the last.</summary>
    /// <param name="passage">The whole.</param>
    /// <param name="unit">By what it grows.</param>
    /// <param name="direction">Where it grows.</param>
    /// <param name="fromNote">Index of the note to begin at; null: the first note forward and outward, the last backward.</param>
    /// <exception cref="ArgumentOutOfRangeException">The passage has no such note.</exception>
    public static ImmutableArray<NoteRange> Of(Passage passage, ChainUnit unit, ChainDirection direction, int? fromNote = null)
    {
        ArgumentNullException.ThrowIfNull(passage);
        int start = fromNote ?? (direction == ChainDirection.Backward ? passage.Notes.Length - 1 : 0);
        if (start < 0 || start >= passage.Notes.Length)
        {
            throw new ArgumentOutOfRangeException(nameof(fromNote), start, $"The passage has notes 0 to {passage.Notes.Length - 1}.");
        }

        ImmutableArray<NoteRange> links = LinksOf(passage, unit);
        int link = links.TakeWhile(candidate => candidate.Last < start).Count();

        // Within the first link, only the notes from the chosen one on (or, backward, up to it) belong to the chain.
        NoteRange first = direction switch
        {
            ChainDirection.Forward => links[link] with { First = start },
            ChainDirection.Backward => links[link] with { Last = start },
            _ => links[link],
        };
        return Grow(links, link, first, direction);
    }

    private static ImmutableArray<NoteRange> Grow(ImmutableArray<NoteRange> links, int link, NoteRange first, ChainDirection direction)
    {
        ImmutableArray<NoteRange>.Builder lengths = ImmutableArray.CreateBuilder<NoteRange>();
        lengths.Add(first);
        int below = link - 1;
        int above = link + 1;
        bool forward = direction != ChainDirection.Backward;
        while ((direction != ChainDirection.Backward && above < links.Length) || (direction != ChainDirection.Forward && below >= 0))
        {
            NoteRange length = lengths[^1];
            bool canGoForward = direction != ChainDirection.Backward && above < links.Length;
            bool canGoBackward = direction != ChainDirection.Forward && below >= 0;
            bool goForward = canGoForward && (forward || !canGoBackward);
            lengths.Add(goForward ? length with { Last = links[above++].Last } : length with { First = links[below--].First });
            forward = !goForward || direction == ChainDirection.Forward;
        }

        return lengths.ToImmutable();
    }

    /// <summary>The passage cut into links without gap or overlap, each with at least one required note, where there is one.</summary>
    private static ImmutableArray<NoteRange> LinksOf(Passage passage, ChainUnit unit)
    {
        BarMap bars = new(passage);
        ImmutableArray<NoteRange>.Builder links = ImmutableArray.CreateBuilder<NoteRange>();
        int first = 0;
        for (int index = 0; index < passage.Notes.Length; index++)
        {
            bool isLast = index == passage.Notes.Length - 1;
            bool hasRequired = Enumerable.Range(first, index - first + 1).Any(i => passage.Notes[i].Required);
            bool closes = unit == ChainUnit.Note || (!isLast && LinkOf(passage.Notes[index]) != LinkOf(passage.Notes[index + 1]));
            if (isLast && !hasRequired && links.Count > 0)
            {
                links[^1] = links[^1] with { Last = index };
            }
            else if (isLast || (closes && hasRequired))
            {
                links.Add(new NoteRange(first, index));
                first = index + 1;
            }
        }

        return links.ToImmutable();

        (int Bar, long Beat) LinkOf(PassageNote note)
        {
            BarPosition position = bars.PositionOf(note.Onset);
            return (position.Bar, unit == ChainUnit.Bar ? 0 : ((position.Beat - Fraction.One) / UnitsInABeat(bars.MeterOf(position.Bar))).Floor());
        }
    }

    private static Fraction UnitsInABeat(MeterMark meter) => meter.BeatType >= 8 && meter.Beats > 3 && meter.Beats % 3 == 0 ? 3 : 1;
}
