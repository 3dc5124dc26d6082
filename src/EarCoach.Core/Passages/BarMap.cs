using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>Where the bars of a passage lie: from quarter notes to bar and beat, and back.</summary>
/// <remarks>A metre mark always begins a bar; where it comes before the bar before it is full, that bar is short. The notes of a pickup lie in
/// the bar before the first full one, at its end. Pure; looking up takes time in proportion to the number of metre marks.</remarks>
public sealed class BarMap
{
    private readonly ImmutableArray<Segment> _segments;
    private readonly Fraction _pickup;
    private readonly int _firstBar;

    /// <summary>The bars of a passage.</summary>
    public BarMap(Passage passage)
        : this(Checked(passage).Meters, passage.Pickup, passage.FirstBarNumber)
    {
    }

    /// <summary>Bars from metre marks in order, the first at 0.</summary>
    /// <param name="meters">Metre marks in order; at least one.</param>
    /// <param name="pickup">Quarter notes before the first full bar.</param>
    /// <param name="firstBarNumber">Number of the first full bar.</param>
    /// <exception cref="ArgumentException">No metre mark, or a metre that is none.</exception>
    public BarMap(ImmutableArray<MeterMark> meters, Fraction pickup, int firstBarNumber)
    {
        if (meters.IsDefaultOrEmpty || meters.Any(mark => mark.Beats < 1 || mark.BeatType < 1))
        {
            throw new ArgumentException("A passage needs at least one metre mark, each with beats and a beat type of 1 or more.", nameof(meters));
        }

        _pickup = pickup;
        _firstBar = firstBarNumber;
        ImmutableArray<Segment>.Builder segments = ImmutableArray.CreateBuilder<Segment>(meters.Length);
        segments.Add(new Segment(pickup, firstBarNumber, meters[0]));
        foreach (MeterMark mark in meters.Skip(1).Where(mark => mark.At > pickup))
        {
            Segment last = segments[^1];
            Fraction bars = (mark.At - last.Start) / last.BarLength;
            long whole = bars.Floor() + (bars.Denominator == 1 ? 0 : 1);
            segments.Add(new Segment(mark.At, checked((int)(last.FirstBar + whole)), mark));
        }

        _segments = segments.ToImmutable();
    }

    /// <summary>Number of the bar that holds the passage's start: the pickup's, where there is one.</summary>
    public int StartBar => _pickup > Fraction.Zero ? _firstBar - 1 : _firstBar;

    /// <summary>The bar and beat of a place.</summary>
    /// <param name="at">Quarter notes from the start of the passage; not negative.</param>
    /// <exception cref="ArgumentOutOfRangeException">The place is before the start.</exception>
    /// <exception cref="OverflowException">The place is more than two thousand million bars away.</exception>
    public BarPosition PositionOf(Fraction at)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(at, Fraction.Zero);
        Segment segment = SegmentAt(at);
        if (at < _pickup)
        {
            Fraction intoBar = segment.BarLength - _pickup + at;
            return new BarPosition(_firstBar - 1, Fraction.One + (intoBar / segment.BeatLength));
        }

        Fraction fromStart = at - segment.Start;
        Fraction bars = new((fromStart / segment.BarLength).Floor(), 1);
        Fraction beat = Fraction.One + ((fromStart - (bars * segment.BarLength)) / segment.BeatLength);
        return new BarPosition(checked((int)(segment.FirstBar + bars.Numerator)), beat);
    }

    /// <summary>The place of a bar and beat, in quarter notes from the start of the passage; the reverse of <see cref="PositionOf"/>.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The bar lies before the passage, or has no such beat.</exception>
    public Fraction PlaceOf(BarPosition position)
    {
        Fraction intoBar = (position.Beat - Fraction.One) * SegmentOf(position.Bar).BeatLength;
        Fraction place = position.Bar < _firstBar
            ? _pickup - SegmentOf(position.Bar).BarLength + intoBar
            : StartOf(position.Bar) + intoBar;
        if (position.Beat < Fraction.One || place < StartOf(position.Bar) || place >= StartOf(position.Bar) + LengthOf(position.Bar))
        {
            throw new ArgumentOutOfRangeException(nameof(position), position, $"Bar {position.Bar} has no beat {position.Beat}.");
        }

        return place;
    }

    /// <summary>Where a bar begins, in quarter notes from the start of the passage.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The bar lies before the passage.</exception>
    public Fraction StartOf(int bar)
    {
        Segment segment = SegmentOf(bar);
        return bar < _firstBar ? Fraction.Zero : segment.Start + (new Fraction((long)bar - segment.FirstBar, 1) * segment.BarLength);
    }

    /// <summary>How long a bar is, in quarter notes: less than the metre says for the pickup, and before an early change of metre.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The bar lies before the passage.</exception>
    public Fraction LengthOf(int bar) =>
        Min(bar < _firstBar ? _pickup : SegmentOf(bar).BarLength, NextMark(bar) - StartOf(bar));

    /// <summary>The metre in force in a bar.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The bar lies before the passage.</exception>
    public MeterMark MeterOf(int bar) => SegmentOf(bar).Mark;

    private static Passage Checked(Passage passage)
    {
        ArgumentNullException.ThrowIfNull(passage);
        return passage;
    }

    private static Fraction Min(Fraction a, Fraction b) => a < b ? a : b;

    private Fraction NextMark(int bar)
    {
        foreach (Segment segment in _segments)
        {
            if (segment.FirstBar > bar)
            {
                return segment.Start;
            }
        }

        return StartOf(bar) + SegmentOf(bar).BarLength;
    }

    private Segment SegmentAt(Fraction at)
    {
        int index = _segments.Length - 1;
        while (index > 0 && _segments[index].Start > at)
        {
            index--;
        }

        return _segments[index];
    }

    private Segment SegmentOf(int bar)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(bar, StartBar);
        int index = _segments.Length - 1;
        while (index > 0 && _segments[index].FirstBar > bar)
        {
            index--;
        }

        return _segments[index];
    }

    private sealed record Segment(Fraction Start, int FirstBar, MeterMark Mark)
    {
        public Fraction BarLength { get; } = Mark.BarLength;

        public Fraction BeatLength { get; } = Mark.BeatLength;
    }
}
