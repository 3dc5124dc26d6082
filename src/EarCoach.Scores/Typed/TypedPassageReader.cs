using System.Globalization;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.Typed;

/// <summary>Reads a few bars typed as scientific pitch names with note values.</summary>
/// <remarks>
/// <para>A note is a pitch and a value: C4/4 is middle C, a quarter. Values are 1, 2, 4, 8, 16, 32 and 64, each with dots ("4.") or as one of a triplet
/// ("8t"); where none is given, that of the note or rest before holds. R is a rest. Round brackets slur, = ties to the next note, | is a bar line.
/// Bar lines are checked; one that comes before the first bar is full makes a pickup. Space is free.</para>
/// <para>The pitches are taken as they stand, at sounding pitch; <see cref="PartInstrument.KeepWritten"/> reads them for a transposing instrument.
/// Octaves are those of scientific pitch notation: middle C is C4, and the octave is the letter's (B#3 is middle C).</para>
/// </remarks>
public static class TypedPassageReader
{
    private const int MostCharacters = 20_000;
    private const int MostNotes = 2_000;

    /// <summary>Reads the notes.</summary>
    /// <exception cref="ScoreException">They cannot be read; the place is a line and column.</exception>
    public static Passage Read(string text, TypedReadOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(text);
        options ??= TypedReadOptions.Default;
        RequireFrame(text, options);
        TypedLine line = new(new MeterMark(Fraction.Zero, options.Beats, options.BeatType), MostNotes);
        TypedCursor cursor = new(text);
        while (cursor.SkipSpace())
        {
            ReadSign(cursor, line);
        }

        return line.Finish(cursor) with
        {
            Title = options.Title,
            Tempi = [new TempoMark(Fraction.Zero, options.QuartersPerMinute)],
            KeyFifths = options.KeyFifths,
            FirstBarNumber = options.FirstBarNumber,
        };
    }

    private static void RequireFrame(string text, TypedReadOptions options)
    {
        Require(options.Beats is >= 1 and <= 32 && options.BeatType is 1 or 2 or 4 or 8 or 16 or 32, "metre", $"The metre is {options.Beats}/{options.BeatType}; give 1 to 32 beats of 1, 2, 4, 8, 16 or 32.");
        Require(options.QuartersPerMinute is >= 5 and <= 1000, "tempo", string.Create(CultureInfo.InvariantCulture, $"The tempo is {options.QuartersPerMinute} quarter notes a minute; give 5 to 1000."));
        Require(options.KeyFifths is >= -7 and <= 7, "key signature", $"It has {options.KeyFifths} sharps; give -7 (flats) to 7.");
        Require(options.FirstBarNumber is >= 0 and <= 100_000, "bar number", $"The first bar is {options.FirstBarNumber}; give 0 to 100000.");
        Require(text.Length <= MostCharacters, "whole text", $"It has {text.Length} characters; at most {MostCharacters} are read. A whole part is better imported as a file.");
    }

    private static void Require(bool holds, string place, string reason)
    {
        if (!holds)
        {
            throw new ScoreException(ScoreFailure.Malformed, place, reason);
        }
    }

    private static void ReadSign(TypedCursor cursor, TypedLine line)
    {
        TypedCursor at = cursor.Copy();
        char sign = cursor.Next();
        switch (sign)
        {
            case '(':
                line.OpenSlur(at);
                break;
            case ')':
                line.CloseSlur(at);
                break;
            case '|':
                line.BarLine(at);
                break;
            case '=':
                line.Tie(at);
                break;
            case 'R' or 'r':
                line.Rest(ReadValue(cursor), at);
                break;
            case (>= 'A' and <= 'G') or (>= 'a' and <= 'g'):
                PitchSpelling pitch = ReadPitch(char.ToUpperInvariant(sign), cursor, at);
                line.Note(pitch, ReadValue(cursor), at);
                break;
            case 'H' or 'h':
                throw at.Malformed("H is not read: B is the white key below C, Bb the black one. Write B or Bb with its octave, such as B4/4.");
            default:
                throw at.Malformed($"'{sign}' is not understood. A note begins with a letter A to G, a rest with R; ( ) slur, = ties, | is a bar line.");
        }
    }

    private static PitchSpelling ReadPitch(char step, TypedCursor cursor, TypedCursor at)
    {
        int alter = 0;
        while (Accidental(cursor.Peek()) is { } accidental)
        {
            alter += accidental;
            cursor.Next();
        }

        if (Math.Abs(alter) > 2)
        {
            throw at.Malformed("The note has more than two sharps or flats. Write it by another name.");
        }

        bool isBelowZero = cursor.Peek() == '-';
        if (isBelowZero)
        {
            cursor.Next();
        }

        if (!char.IsAsciiDigit(cursor.Peek()))
        {
            throw cursor.Malformed($"The note {step} has no octave. Write for example {step}4: middle C is C4, the A of 440 Hz is A4.");
        }

        int octave = cursor.Next() - '0';
        if (char.IsAsciiDigit(cursor.Peek()))
        {
            throw cursor.Malformed($"The octave has more than one digit; -1 to 9 exist. A value comes after a stroke: {step}{octave}/{cursor.Peek()}.");
        }

        PitchSpelling pitch = new(step, alter, isBelowZero ? -octave : octave);
        return pitch.MidiPitch is >= 0 and <= 127 ? pitch : throw at.Malformed($"{pitch} is outside the notes that exist here, C-1 to G9. Check its octave.");
    }

    private static int? Accidental(char sign) => sign switch
    {
        '#' or '♯' => 1,
        'b' or '♭' => -1,
        'x' => 2,
        _ => null,
    };

    /// <summary>The value after a stroke, in quarter notes; null where there is none.</summary>
    private static Fraction? ReadValue(TypedCursor cursor)
    {
        if (cursor.Peek() != '/')
        {
            return null;
        }

        cursor.Next();
        TypedCursor at = cursor.Copy();
        string digits = string.Empty;
        while (char.IsAsciiDigit(cursor.Peek()) && digits.Length < 4)
        {
            digits += cursor.Next();
        }

        if (digits is not ("1" or "2" or "4" or "8" or "16" or "32" or "64"))
        {
            throw at.Malformed($"'{digits}' is no note value; write 1 (whole), 2 (half), 4 (quarter), 8, 16, 32 or 64 after the stroke.");
        }

        Fraction value = new(4, int.Parse(digits, CultureInfo.InvariantCulture));
        Fraction dot = value;
        for (int dots = 0; cursor.Peek() == '.'; dots++)
        {
            if (dots == 3)
            {
                throw cursor.Malformed("A note has at most three dots. Tie it to another note instead.");
            }

            cursor.Next();
            dot /= 2;
            value += dot;
        }

        if (cursor.Peek() is 't' or 'T')
        {
            cursor.Next();
            value *= new Fraction(2, 3);
        }

        return value;
    }
}
