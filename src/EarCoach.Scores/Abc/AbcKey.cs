using EarCoach.Core.Passages;

namespace EarCoach.Scores.Abc;

/// <summary>A K: field: key, accidentals of its own, clef and transposition.</summary>
/// <param name="Fifths">Key signature at written pitch.</param>
/// <param name="Own">Alterations of single letters that the field names besides the key.</param>
/// <param name="Transposition">What is added to the written pitch to get the sounding one.</param>
/// <param name="OctaveShift">Octaves by which the field moves what is written (octave=).</param>
internal sealed record AbcKey(int Fifths, IReadOnlyDictionary<char, int> Own, Transposition Transposition, int OctaveShift)
{
    private const string SharpsInOrder = "FCGDAEB";

    private static readonly (string Name, int FifthsBelowMajor)[] _modes =
    [
        ("maj", 0), ("ion", 0), ("mix", 1), ("dor", 2), ("min", 3), ("aeo", 3), ("m", 3), ("phr", 4), ("loc", 5), ("lyd", -1),
    ];

    public static AbcKey None { get; } = new(0, new Dictionary<char, int>(), Transposition.None, 0);

    /// <summary>The alteration of a letter in this key.</summary>
    public int AlterOf(char letter)
    {
        int place = SharpsInOrder.IndexOf(letter, StringComparison.Ordinal);
        return Own.TryGetValue(letter, out int own) ? own : place < Fifths ? 1 : 6 - place < -Fifths ? -1 : 0;
    }

    /// <summary>Reads what stands behind "K:".</summary>
    /// <param name="cursor">At the start of the content.</param>
    /// <param name="before">The key in force: its transposition and octave hold on where the field names none.</param>
    /// <exception cref="ScoreException">A key, mode or clef that is none.</exception>
    public static AbcKey Read(AbcCursor cursor, AbcKey before)
    {
        cursor.TakeWhile(char.IsWhiteSpace);
        int? fifths = ReadTonicAndMode(cursor, out bool isExplicit);
        AbcKey key = before with { Fifths = isExplicit ? 0 : fifths ?? before.Fifths, Own = fifths is null && !isExplicit ? before.Own : new Dictionary<char, int>() };
        Dictionary<char, int> own = new(key.Own);
        while (!cursor.IsAtEnd)
        {
            cursor.TakeWhile(char.IsWhiteSpace);
            if (cursor.IsAtEnd)
            {
                break;
            }

            if (cursor.Next is '^' or '_' or '=')
            {
                int alter = AbcPitch.TakeAccidental(cursor) ?? 0;
                char letter = char.ToUpperInvariant(cursor.Next);
                if (letter is < 'A' or > 'G')
                {
                    throw cursor.Malformed("An accidental of the key belongs to a letter from A to G.");
                }

                cursor.Take();
                own[letter] = alter;
            }
            else
            {
                key = ReadWord(cursor, key, ref own);
            }
        }

        return key with { Own = own };
    }

    private static int? ReadTonicAndMode(AbcCursor cursor, out bool isExplicit)
    {
        isExplicit = false;
        if (cursor.Next == 'H' && cursor.Peek(1) is 'P' or 'p')
        {
            // Highland pipes: HP prints no accidentals, Hp prints two sharps.
            int sharps = cursor.Peek(1) == 'p' ? 2 : 0;
            cursor.Position += 2;
            return sharps;
        }

        if (cursor.Next is < 'A' or > 'G')
        {
            return null;
        }

        int start = cursor.Position;
        string place = cursor.Place;
        int fifths = SharpsInOrder.IndexOf(cursor.Take(), StringComparison.Ordinal) - 1;
        fifths += cursor.TakeIf('#') ? 7 : cursor.TakeIf('b') ? -7 : 0;
        cursor.TakeWhile(c => c == ' ');
        string word = cursor.TakeWhile(char.IsAsciiLetter);
        if (string.Equals(word, "exp", StringComparison.OrdinalIgnoreCase))
        {
            isExplicit = true;
            return 0;
        }

        (string Name, int FifthsBelowMajor) mode = _modes.FirstOrDefault(entry => entry.Name == "m"
            ? string.Equals(word, "m", StringComparison.OrdinalIgnoreCase)
            : word.StartsWith(entry.Name, StringComparison.OrdinalIgnoreCase));
        if (mode.Name is null && word.Length > 0)
        {
            cursor.Position -= word.Length; // a clef or another word, read by the caller
            if (cursor.Position == start + 1 || (cursor.Position == start + 2 && fifths is < -1 or > 5))
            {
                throw new ScoreException(ScoreFailure.Malformed, place, $"'{word}' is no mode; maj, min, m, mix, dor, phr, lyd, loc, ion and aeo are. Correct it and try again.");
            }
        }

        fifths -= mode.FifthsBelowMajor;
        return fifths is >= -7 and <= 7
            ? fifths
            : throw new ScoreException(ScoreFailure.Malformed, place, $"The key has {Math.Abs(fifths)} {(fifths > 0 ? "sharps" : "flats")}; up to 7 exist. Correct it and try again.");
    }

    private static AbcKey ReadWord(AbcCursor cursor, AbcKey key, ref Dictionary<char, int> own)
    {
        string place = cursor.Place;
        string word = cursor.TakeWhile(c => !char.IsWhiteSpace(c));
        string name = word.Split('=')[0];
        string value = word.Contains('=', StringComparison.Ordinal) ? word[(name.Length + 1)..] : string.Empty;
        switch (name)
        {
            case "transpose":
                return key with { Transposition = Transposition.OfSemitones(Number(value, place, 48)) };
            case "octave":
                return key with { OctaveShift = Number(value, place, 4) };
            case "none":
                own = [];
                return key with { Fifths = 0 };
            case "middle" or "m" or "stafflines" or "staffscale" or "name" or "nm" or "snm" or "stem" or "gstem" or "dyn":
                return key; // looks only
            default:
                string clef = name == "clef" ? value : name;
                return key with { Transposition = ClefTransposition(clef, key.Transposition, place) };
        }
    }

    /// <summary>A clef with +8 or -8 sounds an octave higher or lower, with 15 two octaves (ABC 2.1, section 4.6).</summary>
    private static Transposition ClefTransposition(string clef, Transposition before, string place)
    {
        string plain = clef.TrimEnd('0', '1', '2', '3', '4', '5', '8', '+', '-');
        if (plain is not ("treble" or "bass" or "alto" or "tenor" or "none"))
        {
            throw new ScoreException(
                ScoreFailure.Unsupported, place, $"'{clef}' is not understood in a key; clefs are treble, bass, alto and tenor, with +8 or -8 where they sound an octave off.");
        }

        int octaves = clef.EndsWith("+8", StringComparison.Ordinal) ? 1
            : clef.EndsWith("-8", StringComparison.Ordinal) ? -1
            : clef.EndsWith("+15", StringComparison.Ordinal) ? 2
            : clef.EndsWith("-15", StringComparison.Ordinal) ? -2 : 0;
        return octaves == 0 ? before : new Transposition(0, 0, octaves);
    }

    private static int Number(string value, string place, int largest) =>
        int.TryParse(value, System.Globalization.NumberStyles.AllowLeadingSign, System.Globalization.CultureInfo.InvariantCulture, out int number) && Math.Abs(number) <= largest
            ? number
            : throw new ScoreException(ScoreFailure.Malformed, place, $"'{value}' is no whole number from {-largest} to {largest}. Correct it and try again.");
}
