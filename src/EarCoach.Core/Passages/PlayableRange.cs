using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>Which notes of a passage its instrument can hardly play.</summary>
public static class PlayableRange
{
    /// <summary>Indices of the notes outside the practical range, in order.</summary>
    public static ImmutableArray<int> Outside(Passage passage, Instrument instrument)
    {
        ArgumentNullException.ThrowIfNull(passage);
        ArgumentNullException.ThrowIfNull(instrument);
        return [.. Enumerable.Range(0, passage.Notes.Length).Where(index => passage.Notes[index].MidiPitch < instrument.Lowest || passage.Notes[index].MidiPitch > instrument.Highest)];
    }

    /// <summary>Whether not even the instruments and players that reach furthest have this note.</summary>
    /// <param name="midiPitch">Sounding MIDI number.</param>
    /// <param name="instrument">The instrument.</param>
    public static bool IsBeyondAll(int midiPitch, Instrument instrument)
    {
        ArgumentNullException.ThrowIfNull(instrument);
        return midiPitch < instrument.ExtremeLowest || midiPitch > instrument.ExtremeHighest;
    }
}
