using EarCoach.Core.Passages;

namespace EarCoach.Scores.Abc;

/// <summary>What the fields of a tune say: key, unit note length, tempo, and which voice it is.</summary>
internal sealed class AbcState
{
    private string? _voice;
    private Fraction? _unit;
    private AbcCursor? _tempoField;

    public AbcKey Key { get; private set; } = AbcKey.None;

    /// <summary>The key of the K: field that ends the header; null before it.</summary>
    public AbcKey? FirstKey { get; private set; }

    /// <summary>Quarter notes of a note without a length; set anew by M: only as long as no L: field stood.</summary>
    public Fraction Unit => _unit ?? AbcTempo.UsualUnit(Meter);

    public MeterMark? Meter { get; private set; }

    public List<string> Remarks { get; } = [];

    /// <summary>Takes in a field, in the header, in the body or within a line.</summary>
    /// <param name="letter">The letter before the colon.</param>
    /// <param name="content">What stands behind the colon.</param>
    /// <param name="line">Line, counted from 1.</param>
    /// <param name="column">Column of the content, counted from 1.</param>
    /// <param name="measures">Where a change of metre or tempo goes; null in the header.</param>
    /// <exception cref="ScoreException">A field that is not understood.</exception>
    public void Take(char letter, string content, int line, int column, AbcMeasures? measures)
    {
        AbcCursor cursor = new(content.TrimEnd(), line, column);
        switch (letter)
        {
            case 'K':
                Key = AbcKey.Read(cursor, Key);
                FirstKey ??= Key;
                RemarkTransposition(cursor);
                break;
            case 'M':
                TakeMeter(cursor, measures);
                break;
            case 'L':
                _unit = AbcTempo.ReadUnit(cursor);
                break;
            case 'Q':
                TakeTempo(cursor, content, line, column, measures);
                break;
            case 'V':
                TakeVoice(cursor);
                break;
            case 'P' when measures is null && content.Count(char.IsAsciiLetter) > 1:
                throw cursor.Unsupported("An order of parts (P:) is not followed. Write the parts out in the order they are played.");
            case 'U' or 'm':
                throw cursor.Unsupported($"The field '{letter}:' (own symbols, macros) is not understood. Write the notes out.");
            case 's':
                Remarks.Add($"{cursor.Place}: the symbol line (s:) was left out.");
                break;
            default:
                if (!char.IsAsciiLetter(letter) && letter != '+')
                {
                    throw cursor.Unsupported($"The field '{letter}:' is not understood. Remove it and try again.");
                }

                break; // words, titles, origin and the like are not played
        }
    }

    /// <summary>The tempo of the header, once the unit note length is known; null where there is none.</summary>
    public double? HeaderTempo()
    {
        if (_tempoField is not { } field)
        {
            return null;
        }

        field.Position = 0;
        return AbcTempo.ReadTempo(field, Unit);
    }

    private void TakeMeter(AbcCursor cursor, AbcMeasures? measures)
    {
        if (measures is not null)
        {
            _unit ??= AbcTempo.UsualUnit(Meter); // in the body a new metre does not change the unit
        }

        Meter = AbcTempo.ReadMeter(cursor);
        if (Meter is null)
        {
            Remarks.Add($"{cursor.Place}: the tune has no metre; bars are counted as 4/4.");
        }

        measures?.SetMeter(Meter ?? new MeterMark(Fraction.Zero, 4, 4));
    }

    private void TakeTempo(AbcCursor cursor, string content, int line, int column, AbcMeasures? measures)
    {
        if (measures is null)
        {
            _tempoField = new AbcCursor(content.TrimEnd(), line, column);
        }
        else if (AbcTempo.ReadTempo(cursor, Unit) is { } tempo)
        {
            measures.SetTempo(tempo);
        }
    }

    private void TakeVoice(AbcCursor cursor)
    {
        cursor.TakeWhile(char.IsWhiteSpace);
        string voice = cursor.TakeWhile(c => !char.IsWhiteSpace(c));
        if (_voice is not null && _voice != voice)
        {
            throw cursor.Unsupported($"There are several voices ('{_voice}', '{voice}'); tunes of one voice are read. Keep the voice you practise.");
        }

        _voice = voice;
        if (cursor.TakeWhile(_ => true) is var rest && (rest.Contains("transpose=", StringComparison.Ordinal) || rest.Contains("octave=", StringComparison.Ordinal)))
        {
            throw cursor.Unsupported("A transposition in a voice field is not understood. Write it into the K: field.");
        }
    }

    private void RemarkTransposition(AbcCursor cursor)
    {
        if (Key.Transposition != Transposition.None)
        {
            Remarks.Add($"{cursor.Place}: written notes are taken to sound {Key.Transposition.Semitones} semitones away (transpose= or an octave clef).");
        }
    }
}
