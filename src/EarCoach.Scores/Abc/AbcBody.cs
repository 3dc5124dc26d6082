using EarCoach.Core.Passages;
using EarCoach.Scores.Written;

namespace EarCoach.Scores.Abc;

/// <summary>Reads the music lines of a tune into measures.</summary>
internal sealed class AbcBody(AbcState state, AbcMeasures measures)
{
    private const int MostBarsOfRest = 500;
    private readonly AbcPitch _pitch = new();
    private readonly AbcTuplet _tuplet = new();
    private readonly Stack<string> _openSlurs = new();
    private readonly List<string> _waitingSlurs = [];
    private Articulations _marks;
    private Fraction _brokenFactor = Fraction.One;
    private bool _tieIsOpen;
    private bool _inGraces;
    private int _slurCount;

    /// <summary>Reads one line of music.</summary>
    public void ReadLine(string text, int line)
    {
        AbcCursor cursor = new(text, line);
        while (!cursor.IsAtEnd)
        {
            ReadNext(cursor, line);
        }
    }

    /// <summary>The tune has ended: whatever is still open is an error of the tune.</summary>
    public void Finish(AbcCursor end)
    {
        if (_openSlurs.Count > 0 || _inGraces || _brokenFactor != Fraction.One)
        {
            throw end.Malformed(_inGraces ? "Grace notes are not closed by '}'." : _openSlurs.Count > 0 ? "A slur is not closed by ')'." : "Nothing follows the broken rhythm.");
        }

        measures.Finish();
    }

    private void ReadNext(AbcCursor cursor, int line)
    {
        char next = cursor.Next;
        if (AbcPitch.Begins(next))
        {
            ReadNote(cursor);
            return;
        }

        switch (next)
        {
            case ' ' or '\t' or '`' or '\\' or '$' or '*':
                cursor.Take();
                break;
            case '%':
                cursor.TakeWhile(_ => true);
                break;
            case 'y':
                cursor.Take();
                cursor.TakeLength();
                break;
            case 'z' or 'x':
                cursor.Take();
                measures.Add(null, TakeLength(cursor), cursor);
                _tieIsOpen = false;
                break;
            case 'Z' or 'X':
                ReadBarsOfRest(cursor);
                break;
            case '>' or '<':
                ReadBrokenRhythm(cursor);
                break;
            case '-':
                ReadTie(cursor);
                break;
            case '{' or '}':
                ReadGraceBrace(cursor);
                break;
            case '(' or ')':
                ReadSlurOrTuplet(cursor);
                break;
            case '"':
                cursor.Take();
                cursor.TakeUntil('"', "A chord symbol or annotation");
                break;
            case '!' or '+':
                cursor.Take();
                Mark(cursor.TakeUntil(next, "A decoration").Trim(), cursor);
                break;
            case '|' or ':':
                ReadBarLine(cursor);
                break;
            case '[':
                ReadBracket(cursor, line);
                break;
            case '&':
                throw new ScoreException(ScoreFailure.Polyphony, cursor.Place, "A second voice begins here (&); a passage is one line. Keep one of the voices.");
            case '.' when cursor.Peek(1) is '|' or '(' or '-':
                cursor.Take(); // a dotted bar line, slur or tie is read as a plain one
                break;
            default:
                ReadOneLetterMark(cursor);
                break;
        }
    }

    private void ReadNote(AbcCursor cursor)
    {
        string place = cursor.Place;
        PitchSpelling written = _pitch.Take(cursor, state.Key);
        Fraction length = _inGraces ? cursor.TakeLength() * Fraction.Zero : TakeLength(cursor);
        int midi = written.MidiPitch + state.Key.Transposition.Semitones;
        if (midi is < 0 or > 127)
        {
            throw new ScoreException(ScoreFailure.Malformed, place, $"{written} would sound as MIDI note {midi}; 0 to 127 exist. Correct it and try again.");
        }

        measures.Add(
            new WrittenNote
            {
                Offset = Fraction.Zero,
                Length = length,
                MidiPitch = midi,
                Spelling = Math.Abs(written.Alter) <= 2 ? written : null,
                Transposition = state.Key.Transposition,
                Place = place,
                IsGrace = _inGraces,
                TieStops = _tieIsOpen && !_inGraces,
                SlurStarts = [.. _waitingSlurs],
                Articulations = _inGraces ? Articulations.None : _marks,
            },
            length,
            cursor);
        _waitingSlurs.Clear();
        if (!_inGraces)
        {
            _marks = Articulations.None;
            _tieIsOpen = false;
            _pitch.TiedOver = null;
        }

        if (cursor.Next == '-' && !_inGraces)
        {
            _pitch.TiedOver = written;
        }
    }

    /// <summary>The length behind a note or rest, in quarter notes, changed by tuplet and broken rhythm.</summary>
    private Fraction TakeLength(AbcCursor cursor)
    {
        Fraction length = cursor.TakeLength() * state.Unit * _tuplet.Next() * _brokenFactor;
        _brokenFactor = Fraction.One;
        return length;
    }

    private void ReadBarsOfRest(AbcCursor cursor)
    {
        cursor.Take();
        int count = cursor.TakeNumber() ?? 1;
        if (measures.HasElement || count is < 1 or > MostBarsOfRest)
        {
            throw cursor.Malformed($"Bars of rest (Z) stand alone between bar lines, 1 to {MostBarsOfRest} at once.");
        }

        for (int bar = 0; bar < count; bar++)
        {
            if (bar > 0)
            {
                measures.BarLine(endsRepeat: false, startsRepeat: false, endsVolta: false);
            }

            measures.Add(null, measures.Meter.BarLength, cursor);
        }

        _tieIsOpen = false;
    }

    private void ReadBrokenRhythm(AbcCursor cursor)
    {
        char sign = cursor.Next;
        int count = cursor.TakeWhile(c => c == sign).Length;
        if (!measures.HasElement || count > 3 || _inGraces || _brokenFactor != Fraction.One)
        {
            throw cursor.Malformed("Broken rhythm stands between two notes of a bar, with one to three signs.");
        }

        Fraction shorter = new(1, 1 << count);
        Fraction longer = 2 - shorter;
        measures.Stretch(sign == '>' ? longer : shorter);
        _brokenFactor = sign == '>' ? shorter : longer;
    }

    private void ReadTie(AbcCursor cursor)
    {
        if (!measures.TieLast())
        {
            throw cursor.Malformed("A tie stands right behind a note.");
        }

        cursor.Take();
        _tieIsOpen = true;
    }

    private void ReadGraceBrace(AbcCursor cursor)
    {
        if (_inGraces == (cursor.Next == '{'))
        {
            throw cursor.Malformed(_inGraces ? "Grace notes begin within grace notes." : "Grace notes end that never began.");
        }

        cursor.Take();
        _inGraces = !_inGraces;
        cursor.TakeIf('/'); // an acciaccatura, played alike
    }

    private void ReadSlurOrTuplet(AbcCursor cursor)
    {
        if (cursor.Next == '(' && char.IsAsciiDigit(cursor.Peek(1)))
        {
            cursor.Take();
            _tuplet.Begin(cursor, measures.Meter);
            return;
        }

        if (cursor.Next == '(')
        {
            cursor.Take();
            string number = $"{++_slurCount}";
            _openSlurs.Push(number);
            _waitingSlurs.Add(number);
            return;
        }

        if (_openSlurs.Count == 0 || !measures.EndSlur(_openSlurs.Peek()))
        {
            throw cursor.Malformed("A slur ends here that never began.");
        }

        _openSlurs.Pop();
        cursor.Take();
    }

    private void ReadBracket(AbcCursor cursor, int line)
    {
        if (cursor.Peek(1) == '|')
        {
            cursor.Take();
            ReadBarLine(cursor);
        }
        else if (char.IsAsciiDigit(cursor.Peek(1)))
        {
            cursor.Take();
            ReadVolta(cursor);
        }
        else if (char.IsAsciiLetter(cursor.Peek(1)) && cursor.Peek(2) == ':')
        {
            char letter = cursor.Peek(1);
            int column = cursor.Position + 4;
            cursor.Position += 3;
            state.Take(letter, cursor.TakeUntil(']', "A field within the line"), line, column, measures);
        }
        else
        {
            throw new ScoreException(ScoreFailure.Polyphony, cursor.Place, "A chord begins here ([...]); a passage is one line. Keep one of its notes.");
        }
    }

    private void ReadBarLine(AbcCursor cursor)
    {
        if (_brokenFactor != Fraction.One || _inGraces)
        {
            throw cursor.Malformed("A bar line stands between the two notes of a broken rhythm, or within grace notes.");
        }

        string line = cursor.TakeWhile(c => c is '|' or ':');
        cursor.TakeIf(']');
        bool isDouble = line == "::";
        int bar = line.IndexOf('|', StringComparison.Ordinal);
        if (bar < 0 && !isDouble)
        {
            cursor.Position -= line.Length;
            throw cursor.Malformed($"'{line}' is no bar line; |, ||, |], |:, :| and :: are.");
        }

        bool endsRepeat = isDouble || bar > 0;
        bool startsRepeat = isDouble || line.EndsWith(':');
        measures.BarLine(endsRepeat, startsRepeat, endsVolta: endsRepeat || startsRepeat || line.Length > 1);
        _pitch.BeginBar();
        if (char.IsAsciiDigit(cursor.Next))
        {
            ReadVolta(cursor);
        }
    }

    private void ReadVolta(AbcCursor cursor)
    {
        List<int> numbers = [];
        do
        {
            int first = cursor.TakeNumber() ?? 0;
            int last = cursor.TakeIf('-') ? cursor.TakeNumber() ?? 0 : first;
            if (first < 1 || last < first || last > 16)
            {
                throw cursor.Malformed("This is no ending; write for example [1 or [1,3 or [1-3, up to 16.");
            }

            numbers.AddRange(Enumerable.Range(first, last - first + 1));
        }
        while (cursor.TakeIf(','));

        if (measures.HasElement)
        {
            measures.BarLine(endsRepeat: false, startsRepeat: false, endsVolta: true);
        }

        measures.SetEnding(numbers);
    }

    private void ReadOneLetterMark(AbcCursor cursor)
    {
        string name = AbcDecorations.NameOf(cursor.Next)
            ?? throw cursor.Unsupported($"'{cursor.Next}' is not understood in a line of music. Remove it and try again.");
        Mark(name, cursor);
        cursor.Take();
    }

    private void Mark(string name, AbcCursor cursor)
    {
        _marks |= AbcDecorations.ArticulationOf(name);
        if (AbcDecorations.IsOrnament(name))
        {
            state.Remarks.Add($"{cursor.Place}: the ornament '{name}' is read as a plain note.");
        }

        if (AbcDecorations.IsJump(name))
        {
            measures.SetJump(name, cursor.Place);
        }
    }
}
