using EarCoach.Core.Passages;

namespace EarCoach.App.Commands;

/// <summary>Names the notes of a passage as the player reads them, and as they sound where that differs.</summary>
internal sealed class NoteNames(Passage passage)
{
    /// <summary>For example "A4", or "written E5 (sounds A4)".</summary>
    public string Of(int index)
    {
        PassageNote note = passage.Notes[index];
        return Both(WrittenPitch.Of(passage, note), note.MidiPitch);
    }

    /// <summary>A pitch that was heard where a note of the passage stands, to the nearest semitone.</summary>
    public string OfHeard(double midi, int index)
    {
        int nearest = (int)Math.Clamp(Math.Round(midi), 0, 127);
        Transposition transposition = WrittenPitch.TranspositionAt(passage, passage.Notes[index].Onset);
        return Both(WrittenPitch.Spell(nearest, passage.KeyFifths, transposition), nearest);
    }

    private string Both(PitchSpelling written, int midiPitch) => written.MidiPitch == midiPitch
        ? written.ToString()
        : $"written {written} (sounds {PitchSpelling.FromMidi(midiPitch, passage.KeyFifths)})";
}
