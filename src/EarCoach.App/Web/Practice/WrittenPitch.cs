using EarCoach.Core.Passages;

namespace EarCoach.App.Web.Practice;

/// <summary>Names pitches as the player of an instrument reads them.</summary>
internal sealed class WrittenPitch(Passage passage)
{
    private readonly int _writtenKeyFifths = KeyOf(passage.KeyFifths, 0);

    /// <summary>Written minus sounding pitch, in semitones.</summary>
    public int Transposition => 0;

    /// <summary>The instrument's name; "" when not known.</summary>
    public string InstrumentName => passage.InstrumentId ?? "";

    /// <summary>A note of the passage, for example "B♭4".</summary>
    public string NameOf(PassageNote note) => Pretty(note.WrittenSpelling ?? Spell(note.MidiPitch));

    /// <summary>A pitch that was heard, to the nearest semitone.</summary>
    public string NameOf(double soundingMidi) => Pretty(Spell((int)Math.Clamp(Math.Round(soundingMidi), 0, 127)));

    private static int KeyOf(int soundingFifths, int transposition)
    {
        int fifths = soundingFifths + (7 * transposition % 12);
        return fifths > 7 ? fifths - 12 : fifths < -7 ? fifths + 12 : fifths;
    }

    private static string Pretty(PitchSpelling spelling)
    {
        string alter = spelling.Alter switch { -2 => "𝄫", -1 => "♭", 1 => "♯", 2 => "𝄪", _ => "" };
        return FormattableString.Invariant($"{spelling.Step}{alter}{spelling.Octave}");
    }

    private PitchSpelling Spell(int soundingMidi) => PitchSpelling.FromMidi(soundingMidi + Transposition, _writtenKeyFifths);
}
