using EarCoach.App.Web.Messages;
using EarCoach.Core.Passages;

namespace EarCoach.App.Web.Library;

/// <summary>The instruments as the page offers them.</summary>
internal static class InstrumentChoices
{
    // Names that players use for the same thing. Common practice.
    private static readonly Dictionary<string, string> _otherWords = new(StringComparer.Ordinal)
    {
        ["horn-f"] = "french horn corno cor waldhorn",
        ["english-horn"] = "cor anglais",
        ["cello"] = "violoncello",
        ["double-bass"] = "contrabass bass",
        ["contrabassoon"] = "double bassoon",
        ["flugelhorn"] = "fluegelhorn",
        ["euphonium-treble"] = "baritone",
        ["oboe-damore"] = "oboe damore",
        ["tenor-horn"] = "alto horn",
    };

    /// <summary>All, in the order of a score.</summary>
    public static IReadOnlyList<PageInstrument> All { get; } = [.. InstrumentTable.All.Select(ChoiceOf)];

    private static PageInstrument ChoiceOf(Instrument instrument)
    {
        string shortName = instrument.Name.Replace(" flat", "b", StringComparison.Ordinal);
        return new PageInstrument(
            instrument.Id,
            instrument.Name,
            $"{shortName} {_otherWords.GetValueOrDefault(instrument.Id)}".Trim(),
            $"{Capital(instrument.Transposition.ToString())}. Written range {Written(instrument.Lowest)} to {Written(instrument.Highest)}.",
            PartChoice.HasCrooks(instrument) ? [.. HornCrooks.All.Select(crook => new PageChoice(crook.Id, crook.Name))] : null);

        string Written(int midi) => WrittenPitch.Spell(midi, 0, instrument.Transposition).ToString();
    }

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];
}
