using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>Finds the instrument that someone names.</summary>
public static class InstrumentSearch
{
    /// <summary>What a plain family name means, unless the part says otherwise.</summary>
    private static readonly ImmutableDictionary<string, string> _usual = new Dictionary<string, string>
    {
        ["horn"] = "horn-f",
        ["frenchhorn"] = "horn-f",
        ["clarinet"] = "clarinet-bb",
        ["trumpet"] = "trumpet-bb",
        ["sax"] = "alto-sax",
        ["saxophone"] = "alto-sax",
        ["sopranosaxophone"] = "soprano-sax",
        ["altosaxophone"] = "alto-sax",
        ["tenorsaxophone"] = "tenor-sax",
        ["baritonesaxophone"] = "baritone-sax",
        ["bassclarinetinbflat"] = "bass-clarinet",
        ["coranglais"] = "english-horn",
        ["violoncello"] = "cello",
        ["contrabass"] = "double-bass",
        ["baritone"] = "euphonium-treble",
    }.ToImmutableDictionary(StringComparer.OrdinalIgnoreCase);

    /// <summary>The instruments that a name can mean: one where it is clear, several to choose from, none where it is unknown.</summary>
    /// <param name="name">An id ("horn-f"), an English name ("Clarinet in B flat", "Bb Clarinet") or a family ("horn"). Case, spaces and hyphens do
    /// not matter.</param>
    public static ImmutableArray<Instrument> Find(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        string key = Plain(name);
        if (key.Length == 0)
        {
            return [];
        }

        Instrument? exact = InstrumentTable.All.FirstOrDefault(instrument => Same(Plain(instrument.Id), key) || Same(Plain(instrument.Name), key))
            ?? InstrumentTable.ById(_usual.GetValueOrDefault(key));
        return exact is not null
            ? [exact]
            : [.. InstrumentTable.All.Where(instrument => Plain(instrument.Name).StartsWith(key, StringComparison.OrdinalIgnoreCase))];
    }

    private static bool Same(string a, string b) => string.Equals(a, b, StringComparison.OrdinalIgnoreCase);

    /// <summary>The words run together, flats spelled out, a key before the name put behind it: "B♭ Clarinet" becomes "ClarinetinBflat".</summary>
    private static string Plain(string name)
    {
        char[] separators = [' ', '-', ',', '.', '\'', '(', ')', '_'];
        string[] words = name.Replace("♭", "b", StringComparison.Ordinal).Split(separators, StringSplitOptions.RemoveEmptyEntries);
        string[] plain = [.. words.Select(word => Same(word, "Bb") ? "Bflat" : Same(word, "Eb") ? "Eflat" : word)];
        bool keyFirst = plain is ["A" or "C" or "D" or "E" or "F" or "Bflat" or "Eflat", _] && !Same(plain[1], "bass");
        return keyFirst ? $"{plain[1]}in{plain[0]}" : string.Concat(plain);
    }
}
