using System.Collections.Immutable;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.Typed;

/// <summary>Puts typed notes one after the other and checks ties, slurs and bar lines.</summary>
internal sealed class TypedLine(MeterMark meter, int mostNotes)
{
    private readonly ImmutableArray<PassageNote>.Builder _notes = ImmutableArray.CreateBuilder<PassageNote>();
    private Fraction _now;
    private Fraction _lastBarLine;
    private Fraction? _pickup;
    private Fraction? _value;
    private TypedCursor? _slur;
    private TypedCursor? _tie;
    private bool _slurHasBegun;

    public void Note(PitchSpelling pitch, Fraction? given, TypedCursor at)
    {
        Fraction value = ValueOf(given, at);
        if (_tie is not null)
        {
            PassageNote tied = _notes[^1];
            if (tied.MidiPitch != pitch.MidiPitch)
            {
                throw _tie.Malformed($"The tie leads from {tied.WrittenSpelling} to {pitch}; a tie joins two notes of one pitch. Write ( ) around notes that are slurred.");
            }

            _notes[^1] = tied with { Length = tied.Length + value };
            _tie = null;
            _now += value;
            return;
        }

        if (_notes.Count == mostNotes)
        {
            throw at.Malformed($"A typed passage has at most {mostNotes} notes. A whole part is better imported as a file.", ScoreFailure.TooLarge);
        }

        _notes.Add(new PassageNote
        {
            MidiPitch = pitch.MidiPitch,
            Onset = _now,
            Length = value,
            WrittenSpelling = pitch,
            SlurredFromPrevious = _slur is not null && _slurHasBegun && _notes[^1].End == _now,
        });
        _slurHasBegun = _slur is not null;
        _now += value;
    }

    public void Rest(Fraction? given, TypedCursor at)
    {
        RequireNoTie();
        _now += ValueOf(given, at);
    }

    public void Tie(TypedCursor at)
    {
        if (_notes.Count == 0 || _notes[^1].End != _now || _tie is not null)
        {
            throw at.Malformed("A tie (=) stands right behind a note, such as C4/4= C4/8.");
        }

        _tie = at;
    }

    public void OpenSlur(TypedCursor at)
    {
        if (_slur is not null)
        {
            throw at.Malformed("A slur begins inside another one. Close the first one with ) before.");
        }

        _slur = at;
        _slurHasBegun = false;
    }

    public void CloseSlur(TypedCursor at)
    {
        if (_slur is null)
        {
            throw at.Malformed("A slur is closed that was not begun. Write ( before its first note.");
        }

        _slur = null;
    }

    public void BarLine(TypedCursor at)
    {
        Fraction held = _now - _lastBarLine;
        if (held == Fraction.Zero)
        {
            return; // a double bar, or one at the very start
        }

        bool isFirst = _pickup is null;
        if (isFirst && held < meter.BarLength)
        {
            _pickup = held;
        }
        else if (held != meter.BarLength)
        {
            throw at.Malformed($"The bar that ends here holds {InQuarters(held)}; {meter.Beats}/{meter.BeatType} asks for {InQuarters(meter.BarLength)}. Correct a value or the bar line.");
        }
        else
        {
            _pickup ??= Fraction.Zero;
        }

        _lastBarLine = _now;
    }

    public Passage Finish(TypedCursor end)
    {
        RequireNoTie();
        if (_slur is not null)
        {
            throw _slur.Malformed("The slur that begins here does not end. Write ) behind its last note.");
        }

        if (_notes.Count == 0)
        {
            throw end.Malformed("There is no note yet. Write for example C4/4 D4/8 E4/8.", ScoreFailure.NoNotes);
        }

        if (_pickup is not null && _now - _lastBarLine > meter.BarLength)
        {
            throw end.Malformed($"The last bar holds {InQuarters(_now - _lastBarLine)}; {meter.Beats}/{meter.BeatType} asks for {InQuarters(meter.BarLength)}. Write the bar lines that are missing, or none at all.");
        }

        return new Passage { Title = string.Empty, Notes = _notes.ToImmutable(), Meters = [meter], Pickup = _pickup ?? Fraction.Zero };
    }

    private static string InQuarters(Fraction value) => value == Fraction.One ? "1 quarter note" : $"{value} quarter notes";

    private Fraction ValueOf(Fraction? given, TypedCursor at)
    {
        _value = given ?? _value;
        return _value ?? throw at.Malformed("The first note has no value. Write it after a stroke: C4/4 is a quarter, C4/8 an eighth.");
    }

    private void RequireNoTie()
    {
        if (_tie is not null)
        {
            throw _tie.Malformed("The tie leads to no note. Write the note of the same pitch behind it, or take the = away.");
        }
    }
}
