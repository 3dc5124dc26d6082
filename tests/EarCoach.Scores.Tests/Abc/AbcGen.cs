using CsCheck;

namespace EarCoach.Scores.Tests.Abc;

/// <summary>Random tunes in the subset that is read, without grace notes: players and libraries give those their time in different ways.</summary>
internal static class AbcGen
{
    private static readonly Gen<string> _note =
        from letter in Gen.Char["CDEFGABcdefgab"]
        from octave in Gen.OneOf("", "", "", ",", "'")
        from length in Gen.OneOf("", "", "2", "/", "/2", "3/2", "3")
        select $"{letter}{octave}{length}";

    private static readonly Gen<string> _item = Gen.OneOf(
        _note,
        _note,
        _note,
        Gen.Select(_note, _note, (a, b) => $"({a} {b})"),
        Gen.Select(_note, _note, (a, b) => $".{a} L{b}"),
        Gen.Select(Gen.Char["CDEGAcde"], Gen.Char["CDEGAcde"], Gen.OneOf(">", "<", ">>"), (a, b, sign) => $"{a}{sign}{b}"),
        Gen.Select(Gen.Char["CDEGAcde"].Array[3], notes => $"(3{new string(notes)}"),
        Gen.Const("z"));

    /// <summary>A note with an accidental, and again without: only at the end of a bar, because libraries differ on what it does to other octaves.</summary>
    private static readonly Gen<string> _ending = Gen.OneOf(
        _note,
        Gen.Select(Gen.OneOf("^", "_", "=", "^^", "__"), _note, (sign, note) => $"{sign}{note} {note}"));

    /// <summary>A whole tune. Each bar begins with a bar line, so accidentals never last into the next.</summary>
    public static Gen<string> Tune { get; } =
        from meter in Gen.OneOf("4/4", "3/4", "6/8", "2/4", "C|")
        from unit in Gen.OneOf("1/4", "1/8", "1/16")
        from key in Gen.OneOf("C", "G", "D", "Bb", "Eb", "Am", "F#m", "Ddor", "Amix", "E")
        from tempo in Gen.Int[40, 200]
        from bars in Gen.Select(_item.Array[1, 5], _ending, (items, ending) => string.Join(' ', items.Append(ending))).Array[1, 8]
        select $"X:1\nT:Study\nM:{meter}\nL:{unit}\nQ:1/4={tempo}\nK:{key}\nA{string.Concat(bars.Select(bar => "|" + bar))}|]\n";
}
