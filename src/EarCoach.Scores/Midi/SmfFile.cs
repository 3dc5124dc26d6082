using System.Collections.Immutable;

namespace EarCoach.Scores.Midi;

/// <summary>A Standard MIDI File in memory.</summary>
/// <param name="Format">0 or 1.</param>
/// <param name="TicksPerQuarter">Ticks a quarter note; 1 to 32767.</param>
/// <param name="Tracks">In the order of the file.</param>
internal sealed record SmfFile(int Format, int TicksPerQuarter, ImmutableArray<SmfTrack> Tracks);
