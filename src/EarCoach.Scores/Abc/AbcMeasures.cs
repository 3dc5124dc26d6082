using System.Globalization;
using EarCoach.Core.Passages;
using EarCoach.Scores.Written;

namespace EarCoach.Scores.Abc;

/// <summary>Collects notes and rests into measures: lengths first, places when the bar line comes, since broken rhythm changes a note already read.</summary>
internal sealed class AbcMeasures
{
    private const int MostElements = 200_000;
    private readonly List<(WrittenNote? Note, Fraction Length)> _bar = [];
    private readonly List<(int Element, double QuartersPerMinute)> _tempi = [];
    private int _elements;
    private bool _repeatStarts;
    private bool _hasTimeSignature;
    private IReadOnlyList<int> _ending = [];
    private (string Name, string Place)? _jump;

    public List<(WrittenMeasure Measure, List<WrittenNote> Notes)> Measures { get; } = [];

    public MeterMark Meter { get; private set; } = new(Fraction.Zero, 4, 4);

    /// <summary>The last note of the bar under way, graces aside, or null.</summary>
    public bool HasElement => _bar.Any(element => element.Note is not { IsGrace: true });

    public void SetMeter(MeterMark meter)
    {
        Meter = meter;
        _hasTimeSignature = true;
    }

    public void SetTempo(double quartersPerMinute) => _tempi.Add((_bar.Count, quartersPerMinute));

    public void SetJump(string name, string place) => _jump = (name, place);

    public void SetEnding(IReadOnlyList<int> numbers) => _ending = numbers;

    public void Add(WrittenNote? note, Fraction length, AbcCursor cursor)
    {
        if (++_elements > MostElements)
        {
            throw new ScoreException(ScoreFailure.TooLarge, cursor.Place, $"The tune has more than {MostElements} notes and rests. Keep only the bars you practise.");
        }

        _bar.Add((note, length));
    }

    /// <summary>Multiplies the length of the last note or rest, for broken rhythm.</summary>
    public void Stretch(Fraction factor)
    {
        int last = _bar.FindLastIndex(element => element.Note is not { IsGrace: true });
        (WrittenNote? note, Fraction length) = _bar[last];
        _bar[last] = (note is null ? null : note with { Length = length * factor }, length * factor);
    }

    /// <summary>Ties the last note to the next.</summary>
    /// <returns>False where no note stands before the tie.</returns>
    public bool TieLast()
    {
        if (_bar.Count == 0 || _bar[^1].Note is not { IsGrace: false } note)
        {
            return false;
        }

        _bar[^1] = (note with { TieStarts = true }, _bar[^1].Length);
        return true;
    }

    /// <summary>Closes a slur at the last note.</summary>
    public bool EndSlur(string number)
    {
        int last = _bar.FindLastIndex(element => element.Note is not null);
        if (last < 0)
        {
            return EndSlurInLastMeasure(number);
        }

        _bar[last] = (WithSlurStop(_bar[last].Note!, number), _bar[last].Length);
        return true;
    }

    /// <summary>A bar line: the bar under way, if anything is in it, becomes a measure.</summary>
    /// <param name="endsRepeat">Whether the music up to here is repeated.</param>
    /// <param name="startsRepeat">Whether a repeated section begins after it.</param>
    /// <param name="endsVolta">Whether a volta ends here.</param>
    public void BarLine(bool endsRepeat, bool startsRepeat, bool endsVolta)
    {
        if (_bar.Count > 0)
        {
            CloseBar();
        }

        if (endsRepeat && Measures.Count > 0)
        {
            Measures[^1].Measure.RepeatEnds = 2;
        }

        if (endsVolta)
        {
            _ending = [];
        }

        _repeatStarts |= startsRepeat;
    }

    /// <summary>Numbers the measures: 0 for a pickup, then from 1.</summary>
    public void Finish()
    {
        BarLine(endsRepeat: false, startsRepeat: false, endsVolta: true);
        bool hasPickup = Measures.Count > 1 && Measures[0].Measure.Length < Measures[0].Measure.Meter.BarLength;
        for (int index = 0; index < Measures.Count; index++)
        {
            Measures[index].Measure.Number = (hasPickup ? index : index + 1).ToString(CultureInfo.InvariantCulture);
        }
    }

    private void CloseBar()
    {
        List<WrittenNote> notes = [];
        WrittenMeasure measure = new()
        {
            Number = "0",
            IsImplicit = Measures.Count == 0,
            Meter = Meter,
            HasTimeSignature = _hasTimeSignature && Measures.Count > 0,
            RepeatStarts = _repeatStarts,
            EndingNumbers = _ending,
            Jump = _jump,
        };
        Fraction now = Fraction.Zero;
        for (int index = 0; index <= _bar.Count; index++)
        {
            measure.Tempi.AddRange(_tempi.Where(tempo => tempo.Element == index).Select(tempo => (now, tempo.QuartersPerMinute)));
            if (index < _bar.Count)
            {
                (WrittenNote? note, Fraction length) = _bar[index];
                if (note is not null)
                {
                    notes.Add(note with { Offset = now });
                }

                now += note is { IsGrace: true } ? Fraction.Zero : length;
            }
        }

        measure.Length = now > Fraction.Zero ? now : Meter.BarLength;
        Measures.Add((measure, notes));
        _bar.Clear();
        _tempi.Clear();
        _repeatStarts = false;
        _hasTimeSignature = false;
        _jump = null;
    }

    private bool EndSlurInLastMeasure(string number)
    {
        if (Measures.Count == 0 || Measures[^1].Notes.Count == 0)
        {
            return false;
        }

        List<WrittenNote> notes = Measures[^1].Notes;
        notes[^1] = WithSlurStop(notes[^1], number);
        return true;
    }

    private static WrittenNote WithSlurStop(WrittenNote note, string number) => note with { SlurStops = [.. note.SlurStops, number] };
}
