using System.Collections.Immutable;

namespace EarCoach.Scores.Midi;

/// <summary>What a Standard MIDI File holds, to choose a part from.</summary>
/// <param name="Format">0 or 1.</param>
/// <param name="TrackCount">Number of tracks, those without notes included.</param>
/// <param name="TicksPerQuarter">Ticks a quarter note.</param>
/// <param name="Parts">Every track and channel with notes, in the order of the file.</param>
public sealed record MidiDescription(int Format, int TrackCount, int TicksPerQuarter, ImmutableArray<MidiPart> Parts);
