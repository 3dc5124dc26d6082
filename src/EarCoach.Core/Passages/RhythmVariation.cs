using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>Puts a passage into another rhythm. Pitches, slurs and ornament marks stay; so does how much of its time each note sounds. Grace notes are
/// left out: a rhythm is practised with the notes that have a time of their own.</summary>
public static class RhythmVariation
{
    /// <summary>Rewrites the rhythm.</summary>
    /// <param name="passage">The passage as written.</param>
    /// <param name="variant">The other rhythm.</param>
    /// <param name="scaling">How fast the short notes are.</param>
    /// <param name="scope">Which notes.</param>
    /// <returns>The passage in the other rhythm. Notes at the end of a run that do not fill a group stay even. Where the whole keeps its length,
    /// so do metre and bars; where it grows, the metre becomes one whose bars hold whole groups, and tempo and crook marks move with their notes.</returns>
    public static Passage Apply(Passage passage, RhythmVariant variant, VariantScaling scaling, VariantScope scope = VariantScope.EvenRuns)
    {
        ArgumentNullException.ThrowIfNull(passage);
        ArgumentNullException.ThrowIfNull(variant);
        passage = GraceNotes.Without(passage);
        ImmutableArray<EvenRun> runs = scope == VariantScope.AllNotes
            ? [new EvenRun(new NoteRange(0, passage.Notes.Length - 1), MostFrequentStep(passage.Notes))]
            : EvenRun.Of(passage.Notes);
        VariantLine line = new(passage.Notes, variant, scaling == VariantScaling.EqualTotal ? variant.EqualTotal : variant.ShortsAtTarget);
        foreach (EvenRun run in runs)
        {
            line.Add(run, keepsSteps: scope == VariantScope.EvenRuns);
        }

        // A passage that keeps its length keeps its bars, and the silence before its first note with them.
        Fraction cut = line.KeepsTotal ? Fraction.Zero : line.Notes[0].Onset;
        Passage varied = passage with
        {
            Notes = [.. line.Notes.Select(note => note with { Onset = note.Onset - cut })],
            Tempi = [.. LastAtEachPlace(passage.Tempi.Select(mark => mark with { At = NewPlace(mark.At) }), mark => mark.At)],
            Transpositions = [.. LastAtEachPlace(passage.Transpositions.Select(mark => mark with { At = NewPlace(mark.At) }), mark => mark.At)],
        };
        return line.KeepsTotal ? varied : WithMetreOfGroups(varied, line.FirstGroupLength);

        Fraction NewPlace(Fraction at) => line.Moved(at) < cut ? Fraction.Zero : line.Moved(at) - cut;
    }

    /// <summary>The variants that change something in the passage: those with at least one whole group in its even runs.</summary>
    public static ImmutableArray<RhythmVariant> ThatFit(Passage passage)
    {
        ArgumentNullException.ThrowIfNull(passage);
        int longest = EvenRun.Of(GraceNotes.Without(passage).Notes).Max(run => run.Range.Count);
        return [.. RhythmVariants.All.Where(variant => Math.Max(variant.GroupSize, variant.AccentEvery) <= longest && longest > 1)];
    }

    /// <summary>The passage with its last note held: a fermata over at least a beat, as when notes are added one by one at the goal tempo.</summary>
    public static Passage HoldLast(Passage passage)
    {
        ArgumentNullException.ThrowIfNull(passage);
        PassageNote last = passage.Notes[^1];
        BarMap bars = new(passage);
        Fraction beat = bars.MeterOf(bars.PositionOf(last.Onset).Bar).BeatLength;
        Fraction held = last.Length < beat ? beat : last.Length;
        return passage with { Notes = passage.Notes.SetItem(passage.Notes.Length - 1, last with { Length = held, Articulations = last.Articulations | Articulations.Fermata }) };
    }

    private static Fraction MostFrequentStep(ImmutableArray<PassageNote> notes) =>
        Enumerable.Range(0, notes.Length).GroupBy(index => EvenRun.StepOf(notes, index)).OrderByDescending(group => group.Count()).ThenBy(group => group.Key).First().Key;

    private static IEnumerable<T> LastAtEachPlace<T>(IEnumerable<T> marks, Func<T, Fraction> placeOf) => marks.GroupBy(placeOf).Select(group => group.Last());

    private static Passage WithMetreOfGroups(Passage passage, Fraction groupLength)
    {
        const int MostGroupsInABar = 16;
        const int MostBeats = 12;
        bool isDotted = groupLength.Numerator % 3 == 0 && groupLength.Denominator > 1;
        int[] beatTypes = isDotted ? [8, 16, 4] : [4, 8, 16];
        for (int groups = 1; groups <= MostGroupsInABar; groups++)
        {
            foreach (int beatType in beatTypes)
            {
                Fraction beats = groupLength * groups * beatType / 4;
                if (groupLength * groups >= 2 && beats.Denominator == 1 && beats.Numerator is >= 2 and <= MostBeats)
                {
                    return passage with { Meters = [new MeterMark(Fraction.Zero, (int)beats.Numerator, beatType)], Pickup = Fraction.Zero };
                }
            }
        }

        return passage with { Meters = [passage.Meters[0]], Pickup = Fraction.Zero };
    }
}
