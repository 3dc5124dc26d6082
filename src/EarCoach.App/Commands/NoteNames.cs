using EarCoach.Core.Passages;

namespace EarCoach.App.Commands;

/// <summary>Names the notes of a passage as the player reads them.</summary>
internal sealed class NoteNames
{
    private readonly Passage _passage;

    public NoteNames(Passage passage) => _passage = passage;

    /// <summary>For example "A4", or "written E5 (sounds A4)" where the two differ.</summary>
    public string Of(int index)
    {
        PassageNote note = _passage.Notes[index];
        PitchSpelling sounding = PitchSpelling.FromMidi(note.MidiPitch, _passage.KeyFifths);
        PitchSpelling written = note.WrittenSpelling ?? sounding;
        return Both(written, sounding);
    }

    /// <summary>A pitch that was heard, to the nearest semitone.</summary>
    public string OfHeard(double midi) =>
        PitchSpelling.FromMidi((int)Math.Clamp(Math.Round(midi), 0, 127), _passage.KeyFifths).ToString();

    private static string Both(PitchSpelling written, PitchSpelling sounding) =>
        written.MidiPitch == sounding.MidiPitch ? written.ToString() : $"written {written} (sounds {sounding})";
}
