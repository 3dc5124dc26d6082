using EarCoach.Core.Passages;

namespace EarCoach.Scores.Abc;

/// <summary>Reads pitches and remembers the accidentals of the bar.</summary>
/// <remarks>ABC 2.1, section 4.2: an accidental holds for its letter, in all octaves, to the end of the bar.</remarks>
internal sealed class AbcPitch
{
    private const string Letters = "CDEFGABcdefgab";
    private readonly Dictionary<char, int> _inBar = [];

    /// <summary>A tied note keeps its accidental over the bar line.</summary>
    public PitchSpelling? TiedOver { get; set; }

    public static bool Begins(char next) => next is '^' or '_' or '=' || Letters.Contains(next, StringComparison.Ordinal);

    public void BeginBar() => _inBar.Clear();

    /// <summary>An accidental in front of a note, or null.</summary>
    public static int? TakeAccidental(AbcCursor cursor)
    {
        int? alter = null;
        if (cursor.TakeIf('='))
        {
            return 0;
        }

        foreach ((char sign, int step) in new[] { ('^', 1), ('_', -1) })
        {
            while (Math.Abs(alter ?? 0) < 2 && cursor.TakeIf(sign))
            {
                alter = (alter ?? 0) + step;
            }
        }

        if (alter is not null && cursor.Next is '/' or (>= '0' and <= '9'))
        {
            throw cursor.Unsupported("A microtone cannot be judged. Write the nearest semitone.");
        }

        return alter;
    }

    /// <summary>A pitch with its accidental and octave marks.</summary>
    public PitchSpelling Take(AbcCursor cursor, AbcKey key)
    {
        int? accidental = TakeAccidental(cursor);
        int index = cursor.IsAtEnd ? -1 : Letters.IndexOf(cursor.Next, StringComparison.Ordinal);
        if (index < 0)
        {
            throw cursor.Malformed("A letter from A to G must follow an accidental.");
        }

        cursor.Take();
        char step = Letters[index % 7];
        int octave = 4 + (index / 7) + key.OctaveShift;
        foreach (char mark in cursor.TakeWhile(c => c is ',' or '\''))
        {
            octave += mark == ',' ? -1 : 1;
        }

        if (accidental is { } alter)
        {
            _inBar[step] = alter;
        }
        else if (TiedOver is { } tied && tied.Step == step && tied.Octave == octave)
        {
            return tied;
        }

        int altered = _inBar.TryGetValue(step, out int inBar) ? inBar : key.AlterOf(step);
        return octave is >= -1 and <= 10
            ? new PitchSpelling(step, altered, octave)
            : throw cursor.Malformed($"The octave {octave} is out of reach; -1 to 10 are read.");
    }
}
