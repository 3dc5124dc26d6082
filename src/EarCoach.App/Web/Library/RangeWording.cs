using EarCoach.Core.Passages;

namespace EarCoach.App.Web.Library;

/// <summary>Says which notes an instrument can hardly play.</summary>
internal static class RangeWording
{
    private const int MostNamed = 3;

    /// <summary>The warning; null where every note lies within the instrument's range, or there is no instrument.</summary>
    public static string? Of(Passage passage)
    {
        if (InstrumentTable.ById(passage.InstrumentId) is not { } instrument || PlayableRange.Outside(passage, instrument) is not { Length: > 0 } outside)
        {
            return null;
        }

        BarMap bars = new(passage);
        IEnumerable<string> named = outside.Take(MostNamed).Select(index => $"{WrittenPitch.Of(passage, passage.Notes[index])} in {bars.PositionOf(passage.Notes[index].Onset)}");
        string more = outside.Length > MostNamed ? $" and {outside.Length - MostNamed} more" : string.Empty;
        bool isBeyondAll = outside.Any(index => PlayableRange.IsBeyondAll(passage.Notes[index].MidiPitch, instrument));
        string range = $"written {Written(passage, instrument.Lowest)} to {Written(passage, instrument.Highest)}";
        string lie = outside.Length == 1 ? "lies" : "lie";
        return $"{string.Join(", ", named)}{more} {lie} outside the range of the {Lower(instrument.Name)} ({range})."
            + (isBeyondAll ? " No such instrument reaches all of that: check the instrument, the octave and whether the pitches are sounding or written." : " It can be practised all the same.");
    }

    private static string Lower(string name) => char.ToLowerInvariant(name[0]) + name[1..];

    private static PitchSpelling Written(Passage passage, int midi) => WrittenPitch.Spell(midi, passage.KeyFifths, WrittenPitch.TranspositionAt(passage, Fraction.Zero));
}
