using System.Collections.Immutable;
using System.Globalization;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.Written;

/// <summary>Puts measures one after the other and finds the metre marks and the pickup that make their bar lines.</summary>
internal sealed class MeasureLayout
{
    private readonly List<MeterMark> _meters = [];
    private Fraction _gridStart;

    /// <summary>Lays out measures in the order of playing; at least one.</summary>
    public MeasureLayout(IReadOnlyList<WrittenMeasure> measures)
    {
        WrittenMeasure first = measures[0];
        bool isPickup = measures.Count > 1 && first.Length < first.Meter.BarLength && (first.IsImplicit || !measures[1].HasTimeSignature);
        Pickup = isPickup ? first.Length : Fraction.Zero;
        FirstBarNumber = NumberOf(measures[isPickup ? 1 : 0]) ?? 1;
        _gridStart = Pickup;
        Fraction now = Fraction.Zero;
        foreach (WrittenMeasure measure in measures)
        {
            Starts.Add(now);
            MarkMetre(measure, now);
            now += measure.Length;
        }

        FindShiftedNumber(measures);
    }

    /// <summary>Where each measure begins, in quarter notes.</summary>
    public List<Fraction> Starts { get; } = [];

    public Fraction Pickup { get; }

    public int FirstBarNumber { get; }

    public ImmutableArray<MeterMark> Meters => [.. _meters];

    /// <summary>Told where the numbers of the bars come apart from those on the page; null: they never do.</summary>
    public string? Remark { get; private set; }

    private void MarkMetre(WrittenMeasure measure, Fraction now)
    {
        MeterMark meter = measure.Length > measure.Meter.BarLength ? MetreOfLength(measure) : measure.Meter;
        bool isFirst = _meters.Count == 0;
        bool isOnGrid = now <= _gridStart || ((now - _gridStart) / _meters[^1].BarLength).Denominator == 1;
        bool changes = isFirst || _meters[^1] with { At = Fraction.Zero } != meter;
        if (isFirst || ((changes || !isOnGrid || measure.HasTimeSignature) && now > Pickup))
        {
            _meters.Add(meter with { At = now });
            _gridStart = isFirst ? Pickup : now;
        }
        else if (changes)
        {
            _meters[^1] = meter with { At = _meters[^1].At }; // the first full bar after a pickup has another metre
        }
    }

    /// <summary>A measure that holds more than its metre says gets a metre of its own.</summary>
    private static MeterMark MetreOfLength(WrittenMeasure measure)
    {
        foreach (int beatType in new[] { 4, 8, 16, 32, 64 })
        {
            Fraction beats = measure.Length * beatType / 4;
            if (beats.Denominator == 1 && beats.Numerator <= 255)
            {
                return new MeterMark(Fraction.Zero, (int)beats.Numerator, beatType);
            }
        }

        throw new ScoreException(
            ScoreFailure.Unsupported,
            $"measure {measure.Number}",
            $"It holds {measure.Length} quarter notes, more than its metre of {measure.Meter.Beats}/{measure.Meter.BeatType} says, and no metre fits. Correct the bar and export again.");
    }

    private static int? NumberOf(WrittenMeasure measure) =>
        int.TryParse(measure.Number, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int number) && Math.Abs(number) < 100_000 ? number : null;

    private void FindShiftedNumber(IReadOnlyList<WrittenMeasure> measures)
    {
        BarMap bars = new(Meters, Pickup, FirstBarNumber);
        for (int index = Pickup > Fraction.Zero ? 1 : 0; index < measures.Count; index++)
        {
            int bar = bars.PositionOf(Starts[index]).Bar;
            if (NumberOf(measures[index]) != bar)
            {
                Remark = $"measure {measures[index].Number}: from here on bars are counted on from {bar}, unlike on the page.";
                return;
            }
        }
    }
}
