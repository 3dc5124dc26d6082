using System.Collections.Immutable;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.MusicXml;

/// <summary>Finds the instrument of a part.</summary>
internal static class MusicXmlInstrument
{
    /// <summary>By the part's name, else by its General MIDI program where the transposition agrees; null: not known.</summary>
    public static Instrument? Of(WrittenPart part, Transposition transposition)
    {
        if (part.Name is { } name)
        {
            ImmutableArray<Instrument> named = InstrumentSearch.Find(WithoutNumber(name));
            if (named.Length == 1)
            {
                return named[0];
            }

            if (named.FirstOrDefault(instrument => instrument.Transposition == transposition) is { } fitting)
            {
                return fitting;
            }

            if (!HornCrooks.Meant(WithoutNumber(name)).IsEmpty && name.Contains("horn", StringComparison.OrdinalIgnoreCase))
            {
                return InstrumentTable.ById("horn-f");
            }
        }

        return part.Program is { } program
            ? InstrumentTable.All.FirstOrDefault(instrument => instrument.GeneralMidiProgram == program && instrument.Transposition == transposition)
            : null;
    }

    /// <summary>"Horn in F 2" and "2. Horn" are horns.</summary>
    private static string WithoutNumber(string name) => name.Trim().Trim('1', '2', '3', '4', '5', '6', '.', ' ');
}
