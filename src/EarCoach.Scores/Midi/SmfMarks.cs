using System.Collections.Immutable;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.Midi;

/// <summary>Tempo, metre and key of a file, taken from all its tracks: format 1 puts them in the first, but not every program does.</summary>
/// <remarks>Marks at or after the end of the last note are left out: nothing is played there.</remarks>
internal static class SmfMarks
{
    private const double MicrosecondsPerMinute = 60_000_000.0;

    public static ImmutableArray<TempoMark> TempiOf(SmfFile file, long endTick)
    {
        ImmutableArray<TempoMark>.Builder marks = ImmutableArray.CreateBuilder<TempoMark>();
        marks.Add(new TempoMark(Fraction.Zero, 120));
        foreach ((long tick, int microseconds) in file.Tracks.SelectMany(track => track.Tempi).Where(mark => mark.Tick < endTick).OrderBy(mark => mark.Tick))
        {
            Put(marks, new TempoMark(new Fraction(tick, file.TicksPerQuarter), MicrosecondsPerMinute / microseconds), mark => mark.At);
        }

        return marks.ToImmutable();
    }

    public static (ImmutableArray<MeterMark> Meters, Fraction Pickup) MetersOf(SmfFile file, long endTick)
    {
        ImmutableArray<MeterMark>.Builder marks = ImmutableArray.CreateBuilder<MeterMark>();
        marks.Add(new MeterMark(Fraction.Zero, 4, 4));
        foreach ((long tick, int beats, int beatType) in file.Tracks.SelectMany(track => track.Meters).Where(mark => mark.Tick < endTick).OrderBy(mark => mark.Tick))
        {
            Put(marks, new MeterMark(new Fraction(tick, file.TicksPerQuarter), beats, beatType), mark => mark.At);
        }

        if (marks.Count < 2 || !IsPickup(marks[0], marks[1]))
        {
            return (marks.ToImmutable(), Fraction.Zero);
        }

        Fraction pickup = marks[1].At;
        marks[1] = marks[1] with { At = Fraction.Zero };
        marks.RemoveAt(0);
        return (marks.ToImmutable(), pickup);
    }

    public static int KeyOf(SmfFile file) => file.Tracks.SelectMany(track => track.Keys).OrderBy(key => key.Tick).Select(key => key.Fifths).FirstOrDefault();

    /// <summary>The first bar is cut short by the second mark, or is one bar of at most half the length of those that follow.</summary>
    /// <remarks>So a bar of 3/4 before bars of 4/4 is a bar, and one of 1/4 or 2/4 a pickup. Our choice: files of this format have no mark for it.</remarks>
    private static bool IsPickup(MeterMark first, MeterMark second) =>
        (second.At < first.BarLength && second.At < second.BarLength)
        || (second.At == first.BarLength && second.At * 2 <= second.BarLength);

    /// <summary>Adds a mark; of several at one place the last holds.</summary>
    private static void Put<T>(ImmutableArray<T>.Builder marks, T mark, Func<T, Fraction> placeOf)
    {
        if (placeOf(marks[^1]) == placeOf(mark))
        {
            marks[^1] = mark;
        }
        else
        {
            marks.Add(mark);
        }
    }
}
