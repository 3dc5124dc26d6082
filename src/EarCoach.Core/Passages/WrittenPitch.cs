namespace EarCoach.Core.Passages;

/// <summary>From sounding pitch to what stands on the page of the player's part.</summary>
public static class WrittenPitch
{
    private const int MostSharps = 7;
    private const int CircleOfFifths = 12;

    /// <summary>The transposition in force at a place: the passage's own mark, else its instrument's, else none.</summary>
    /// <param name="passage">The passage.</param>
    /// <param name="at">Quarter notes from the start.</param>
    public static Transposition TranspositionAt(Passage passage, Fraction at)
    {
        ArgumentNullException.ThrowIfNull(passage);
        TranspositionMark? mark = passage.Transpositions.LastOrDefault(mark => mark.At <= at);
        return mark?.Transposition ?? InstrumentTable.ById(passage.InstrumentId)?.Transposition ?? Transposition.None;
    }

    /// <summary>The key signature of the part that is written for a sounding key.</summary>
    /// <param name="soundingFifths">Sharps positive, flats negative, at sounding pitch.</param>
    /// <param name="transposition">Of the part.</param>
    /// <returns>-7 to 7; a key with more sharps or flats is replaced by its enharmonic equal (nine sharps by three flats).</returns>
    public static int KeyFifths(int soundingFifths, Transposition transposition) => Reduce(soundingFifths - transposition.Fifths);

    /// <summary>The sounding key of a written key signature: the reverse of <see cref="KeyFifths"/>, up to enharmonic equals.</summary>
    /// <param name="writtenFifths">Sharps positive, flats negative, on the page.</param>
    /// <param name="transposition">Of the part.</param>
    public static int SoundingKeyFifths(int writtenFifths, Transposition transposition) => Reduce(writtenFifths + transposition.Fifths);

    /// <summary>A note of a passage as it stands on the page: the source's own spelling where it has one that fits, else one that suits the key.</summary>
    public static PitchSpelling Of(Passage passage, PassageNote note)
    {
        ArgumentNullException.ThrowIfNull(passage);
        ArgumentNullException.ThrowIfNull(note);
        Transposition transposition = TranspositionAt(passage, note.Onset);
        return note.WrittenSpelling is { } spelling && spelling.MidiPitch + transposition.Semitones == note.MidiPitch
            ? spelling
            : Spell(note.MidiPitch, passage.KeyFifths, transposition);
    }

    /// <summary>Spells a sounding pitch for a transposed part.</summary>
    /// <param name="midiPitch">Sounding MIDI number.</param>
    /// <param name="soundingFifths">Key at sounding pitch.</param>
    /// <param name="transposition">Of the part.</param>
    public static PitchSpelling Spell(int midiPitch, int soundingFifths, Transposition transposition) =>
        PitchSpelling.FromMidi(midiPitch - transposition.Semitones, KeyFifths(soundingFifths, transposition));

    private static int Reduce(int fifths) => fifths switch
    {
        > MostSharps => Reduce(fifths - CircleOfFifths),
        < -MostSharps => Reduce(fifths + CircleOfFifths),
        _ => fifths,
    };
}
