using EarCoach.Core.Passages;

namespace EarCoach.Scores.MusicXml;

/// <summary>A note value as printed: a type, dots, and a tuplet ratio.</summary>
/// <param name="Type">MusicXML name, for example "eighth".</param>
/// <param name="Dots">0 to 2.</param>
/// <param name="ActualNotes">How many notes stand for <paramref name="NormalNotes"/>: 3 in a triplet; 1 outside tuplets.</param>
/// <param name="NormalNotes">2 in a triplet; 1 outside tuplets.</param>
internal readonly record struct NoteValue(string Type, int Dots, int ActualNotes, int NormalNotes)
{
    private static readonly (string Name, Fraction Quarters)[] _types =
    [
        ("breve", 8), ("whole", 4), ("half", 2), ("quarter", 1), ("eighth", new Fraction(1, 2)), ("16th", new Fraction(1, 4)),
        ("32nd", new Fraction(1, 8)), ("64th", new Fraction(1, 16)), ("128th", new Fraction(1, 32)), ("256th", new Fraction(1, 64)),
    ];

    private static readonly (int Actual, int Normal)[] _tuplets = [(1, 1), (3, 2), (5, 4), (7, 4), (9, 8)];

    /// <summary>How many flags a note of this value has: 1 for a quaver; 0 for a crotchet and longer.</summary>
    public int Flags
    {
        get
        {
            string type = Type;
            return Math.Max(0, Array.FindIndex(_types, entry => entry.Name == type) - 3);
        }
    }

    /// <summary>Quarter notes of a printed type with dots, or null where there is no such type.</summary>
    public static Fraction? QuartersOf(string? type, int dots)
    {
        int index = Array.FindIndex(_types, entry => entry.Name == type);
        return index < 0 || dots > 3 ? null : _types[index].Quarters * new Fraction((1 << (dots + 1)) - 1, 1 << dots);
    }

    /// <summary>The one note value of a length, or null where it takes several tied together, or none exists.</summary>
    /// <param name="quarters">Quarter notes.</param>
    public static NoteValue? Of(Fraction quarters)
    {
        foreach ((int actual, int normal) in _tuplets)
        {
            Fraction printed = quarters * new Fraction(actual, normal);
            for (int dots = 0; dots <= 2; dots++)
            {
                foreach ((string name, _) in _types)
                {
                    if (QuartersOf(name, dots) == printed)
                    {
                        return new NoteValue(name, dots, actual, normal);
                    }
                }
            }
        }

        return null;
    }

    /// <summary>The lengths, tied together, that a length is printed as; the length itself where no printed values make it up.</summary>
    public static IReadOnlyList<Fraction> Split(Fraction quarters)
    {
        if (Of(quarters) is not null)
        {
            return [quarters];
        }

        foreach ((int actual, int normal) in _tuplets)
        {
            List<Fraction> pieces = [];
            Fraction rest = quarters * new Fraction(actual, normal);
            foreach ((_, Fraction value) in _types)
            {
                while (rest >= value && pieces.Count < 12)
                {
                    pieces.Add(value * new Fraction(normal, actual));
                    rest -= value;
                }
            }

            if (rest == Fraction.Zero)
            {
                return pieces;
            }
        }

        return [quarters];
    }
}
