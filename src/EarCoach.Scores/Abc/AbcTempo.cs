using System.Globalization;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.Abc;

/// <summary>Reads M:, L: and Q: fields.</summary>
internal static class AbcTempo
{
    /// <summary>A metre: "4/4", "C", "C|", "2+3/8", "(2+3)/8"; null for "none" or nothing.</summary>
    public static MeterMark? ReadMeter(AbcCursor cursor)
    {
        cursor.TakeWhile(char.IsWhiteSpace);
        string place = cursor.Place;
        string text = new([.. cursor.TakeWhile(_ => true).Where(c => !char.IsWhiteSpace(c) && c is not ('(' or ')'))]);
        if (text is "" or "none")
        {
            return null;
        }

        if (text is "C")
        {
            return new MeterMark(Fraction.Zero, 4, 4);
        }

        if (text is "C|")
        {
            return new MeterMark(Fraction.Zero, 2, 2);
        }

        string[] halves = text.Split('/');
        int beats = 0;
        int beatType = 0;
        bool isMetre = halves.Length == 2
            && halves[0].Split('+').All(part => int.TryParse(part, NumberStyles.None, CultureInfo.InvariantCulture, out int count) && count is >= 1 and <= 255 && (beats += count) <= 255)
            && int.TryParse(halves[1], NumberStyles.None, CultureInfo.InvariantCulture, out beatType)
            && beatType is 1 or 2 or 4 or 8 or 16 or 32 or 64;
        return isMetre
            ? new MeterMark(Fraction.Zero, beats, beatType)
            : throw new ScoreException(ScoreFailure.Malformed, place, $"'{Shortened(text)}' is no metre; write for example M:3/4, M:C or M:C|.");
    }

    /// <summary>The unit note length in quarter notes: "1/8" is half a quarter note.</summary>
    public static Fraction ReadUnit(AbcCursor cursor)
    {
        cursor.TakeWhile(char.IsWhiteSpace);
        string place = cursor.Place;
        Fraction unit = cursor.TakeLength();
        cursor.TakeWhile(char.IsWhiteSpace);
        return cursor.IsAtEnd && unit <= 1 && long.IsPow2(unit.Denominator) && unit.Denominator <= 512 && unit.Numerator == 1
            ? unit * 4
            : throw new ScoreException(ScoreFailure.Malformed, place, "This is no unit note length; write for example L:1/8.");
    }

    /// <summary>The unit where there is no L: field: a sixteenth in metres shorter than 3/4, else an eighth (ABC 2.1, section 3.1.7).</summary>
    public static Fraction UsualUnit(MeterMark? meter) => meter is not null && meter.BarLength < 3 ? new Fraction(1, 4) : new Fraction(1, 2);

    /// <summary>Quarter notes a minute; null where the field has words only.</summary>
    public static double? ReadTempo(AbcCursor cursor, Fraction unit)
    {
        string place = cursor.Place;
        string text = cursor.TakeWhile(_ => true);
        while (text.IndexOf('"', StringComparison.Ordinal) is var open and >= 0)
        {
            int close = text.IndexOf('"', open + 1);
            text = close < 0 ? text[..open] : text[..open] + text[(close + 1)..];
        }

        text = text.Trim();
        if (text.Length == 0)
        {
            return null;
        }

        string[] sides = text.Split('=');
        Fraction beat = Fraction.Zero;
        if (sides.Length == 1)
        {
            beat = unit; // "Q:120" counts unit note lengths (ABC 2.1, section 14.5, old tempo fields)
        }
        else
        {
            foreach (string part in sides[0].Split(' ', StringSplitOptions.RemoveEmptyEntries))
            {
                AbcCursor length = new(part, 0);
                beat += part.Contains('/', StringComparison.Ordinal) && part.Length <= 9 && part.All(c => char.IsAsciiDigit(c) || c == '/') ? length.TakeLength() * 4 : Fraction.Zero;
            }
        }

        bool isNumber = double.TryParse(sides[^1].Trim(), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double perMinute);
        return sides.Length <= 2 && isNumber && perMinute is > 0 and < 10_000 && beat > Fraction.Zero
            ? perMinute * beat.ToDouble()
            : throw new ScoreException(ScoreFailure.Malformed, place, $"'{Shortened(text)}' is no tempo; write for example Q:1/4=120.");
    }

    private static string Shortened(string text) => text.Length <= 40 ? text : text[..40] + "...";
}
