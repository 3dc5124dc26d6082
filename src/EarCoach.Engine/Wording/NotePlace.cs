using System.Collections.Immutable;
using System.Globalization;
using EarCoach.Core.Passages;

namespace EarCoach.Engine.Wording;

/// <summary>Names the notes of a passage as its player does: by bar, place in the bar and written pitch.</summary>
public sealed class NotePlace
{
    private static readonly string[] _ordinals =
        ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth"];

    private readonly Passage _passage;
    private readonly int _pickupBar;
    private readonly ImmutableArray<(int Bar, int Ordinal)> _places;

    /// <summary>Names for the notes of this passage.</summary>
    public NotePlace(Passage passage)
    {
        ArgumentNullException.ThrowIfNull(passage);
        _passage = passage;
        BarMap bars = new(passage);
        _pickupBar = passage.Pickup > Fraction.Zero ? bars.StartBar : int.MinValue;
        ImmutableArray<(int Bar, int Ordinal)>.Builder places = ImmutableArray.CreateBuilder<(int Bar, int Ordinal)>(passage.Notes.Length);
        foreach (PassageNote note in passage.Notes)
        {
            int bar = bars.PositionOf(note.Onset).Bar;
            places.Add((bar, places.Count > 0 && places[^1].Bar == bar ? places[^1].Ordinal + 1 : 1));
        }

        _places = places.MoveToImmutable();
    }

    /// <summary>For example "bar 3, second note (written G4)"; "(G4)" where written and sounding pitch are the same.</summary>
    /// <param name="index">Which note of the passage, from 0.</param>
    public string Of(int index) => $"{PlaceOf(index)} ({PitchOf(index)})";

    /// <summary>For example "bar 3, second note".</summary>
    /// <param name="index">Which note of the passage, from 0.</param>
    public string PlaceOf(int index)
    {
        (int bar, int ordinal) = _places[index];
        string number = ordinal <= _ordinals.Length ? $"{_ordinals[ordinal - 1]} note" : string.Create(CultureInfo.InvariantCulture, $"note {ordinal}");
        return bar == _pickupBar ? $"pickup, {number}" : string.Create(CultureInfo.InvariantCulture, $"bar {bar}, {number}");
    }

    /// <summary>For example "written G4", or "G4" where written and sounding pitch are the same.</summary>
    /// <param name="index">Which note of the passage, from 0.</param>
    public string PitchOf(int index) => Marked(WrittenPitch.Of(_passage, _passage.Notes[index]), _passage.Notes[index].Onset);

    /// <summary>A pitch that was heard, to the nearest semitone, as it would stand in the part near a note.</summary>
    /// <param name="midi">Sounding, as a fractional MIDI number.</param>
    /// <param name="nearIndex">The note of the passage whose transposition holds.</param>
    public string HeardOf(double midi, int nearIndex)
    {
        Fraction at = _passage.Notes[nearIndex].Onset;
        int nearest = (int)Math.Clamp(Math.Round(midi, MidpointRounding.AwayFromZero), 0, 127);
        return Marked(WrittenPitch.Spell(nearest, _passage.KeyFifths, WrittenPitch.TranspositionAt(_passage, at)), at);
    }

    private string Marked(PitchSpelling spelling, Fraction at) =>
        WrittenPitch.TranspositionAt(_passage, at).Semitones == 0 ? spelling.ToString() : $"written {spelling}";
}
