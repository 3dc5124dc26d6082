using EarCoach.Core.Passages;

namespace EarCoach.App.Web.Practice;

/// <summary>Names pitches as the player of a passage reads them.</summary>
internal sealed class PitchNames(Passage passage)
{
    /// <summary>Written minus sounding pitch at the start of the passage, in semitones.</summary>
    public int Transposition => -WrittenPitch.TranspositionAt(passage, Fraction.Zero).Semitones;

    /// <summary>The instrument's name; "" when not known.</summary>
    public string InstrumentName => InstrumentTable.ById(passage.InstrumentId)?.Name ?? "";

    /// <summary>A note of the passage, for example "B♭4".</summary>
    public string NameOf(PassageNote note) => Pretty(WrittenPitch.Of(passage, note));

    /// <summary>A pitch that was heard, to the nearest semitone.</summary>
    /// <param name="soundingMidi">Fractional MIDI number.</param>
    /// <param name="at">Where in the passage, in quarter notes: the transposition may change.</param>
    public string NameOf(double soundingMidi, Fraction at) => Pretty(WrittenPitch.Spell(
        (int)Math.Clamp(Math.Round(soundingMidi), 0, 127), passage.KeyFifths, WrittenPitch.TranspositionAt(passage, at)));

    private static string Pretty(PitchSpelling spelling)
    {
        string alter = spelling.Alter switch { -2 => "𝄫", -1 => "♭", 1 => "♯", 2 => "𝄪", _ => "" };
        return FormattableString.Invariant($"{spelling.Step}{alter}{spelling.Octave}");
    }
}
