using EarCoach.Core.Passages;

namespace EarCoach.Scores.MusicXml;

/// <summary>Which accidentals a reader of the bar still has in mind: those of the key, and those that stood in the bar before. Common practice.</summary>
internal sealed class AccidentalState
{
    private const string SharpsInOrder = "FCGDAEB";
    private readonly Dictionary<(char Step, int Octave), int> _inBar = [];
    private int _keyFifths;

    /// <summary>Begins a bar in a written key.</summary>
    public void BeginBar(int keyFifths)
    {
        _keyFifths = keyFifths;
        _inBar.Clear();
    }

    /// <summary>The accidental to print before a note, as MusicXML names it; null: none is needed.</summary>
    public string? For(PitchSpelling pitch)
    {
        int expected = _inBar.TryGetValue((pitch.Step, pitch.Octave), out int inBar) ? inBar : OfKey(pitch.Step);
        if (expected == pitch.Alter)
        {
            return null;
        }

        _inBar[(pitch.Step, pitch.Octave)] = pitch.Alter;
        return pitch.Alter switch
        {
            -2 => "flat-flat",
            -1 => "flat",
            0 => "natural",
            1 => "sharp",
            2 => "double-sharp",
            _ => null,
        };
    }

    private int OfKey(char step)
    {
        int place = SharpsInOrder.IndexOf(step, StringComparison.Ordinal);
        return place < _keyFifths ? 1 : 6 - place < -_keyFifths ? -1 : 0;
    }
}
