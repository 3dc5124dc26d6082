using System.Collections.Immutable;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.Written;

/// <summary>Collects tempo marks in the order of playing; 120 quarter notes a minute until the first.</summary>
internal sealed class TempoLine
{
    private readonly List<TempoMark> _marks = [new TempoMark(Fraction.Zero, 120)];

    /// <summary>Takes the marks of a measure; of several at one place the last holds.</summary>
    /// <param name="marks">Offsets in quarter notes from the start of the measure.</param>
    /// <param name="start">Where the measure begins.</param>
    public void Add(IEnumerable<(Fraction Offset, double QuartersPerMinute)> marks, Fraction start)
    {
        foreach ((Fraction offset, double quartersPerMinute) in marks.OrderBy(mark => mark.Offset))
        {
            TempoMark mark = new(start + offset, quartersPerMinute);
            if (_marks[^1].At == mark.At)
            {
                _marks[^1] = mark;
            }
            else if (_marks[^1].At < mark.At)
            {
                _marks.Add(mark);
            }
        }
    }

    /// <summary>The marks before a place.</summary>
    public ImmutableArray<TempoMark> Until(Fraction end) => [.. _marks.Where(mark => mark.At < end)];
}
