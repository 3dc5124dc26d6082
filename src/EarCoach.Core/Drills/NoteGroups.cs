using System.Collections.Immutable;
using EarCoach.Core.Passages;

namespace EarCoach.Core.Drills;

/// <summary>Which notes belong together when a chain grows by note, beat or bar: one running number a note.</summary>
internal static class NoteGroups
{
    public static ImmutableArray<int> Of(Passage passage, ChainUnit unit)
    {
        int group = 0;
        ImmutableArray<int>.Builder groups = ImmutableArray.CreateBuilder<int>(passage.Notes.Length);
        (int Segment, long Cell) before = default;
        for (int i = 0; i < passage.Notes.Length; i++)
        {
            (int Segment, long Cell) here = CellOf(passage, passage.Notes[i].Onset, unit);
            if (i > 0 && (unit == ChainUnit.Note || here != before))
            {
                group++;
            }

            groups.Add(group);
            before = here;
        }

        return groups.MoveToImmutable();
    }

    private static (int Segment, long Cell) CellOf(Passage passage, Fraction onset, ChainUnit unit)
    {
        int segment = 0;
        while (segment + 1 < passage.Meters.Length && passage.Meters[segment + 1].At <= onset)
        {
            segment++;
        }

        MeterMark meter = passage.Meters[segment];
        Fraction start = segment == 0 ? passage.Pickup : meter.At;
        Fraction cell = unit == ChainUnit.Bar ? new Fraction(4L * meter.Beats, meter.BeatType) : BeatOf(meter);
        return (segment, Floor((onset - start) / cell));
    }

    // In 6/8, 9/8 and 12/8 the beat is a dotted quarter note: common practice.
    private static Fraction BeatOf(MeterMark meter) =>
        meter.BeatType >= 8 && meter.Beats > 3 && meter.Beats % 3 == 0 ? new Fraction(12, meter.BeatType) : new Fraction(4, meter.BeatType);

    private static long Floor(Fraction value) => (long)Math.Floor((double)value.Numerator / value.Denominator);
}
