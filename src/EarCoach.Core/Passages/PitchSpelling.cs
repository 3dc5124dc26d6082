using System.Globalization;

namespace EarCoach.Core.Passages;

/// <summary>A pitch as written on paper.</summary>
/// <param name="Step">The letter, 'A' to 'G'.</param>
/// <param name="Alter">Semitones added by the accidental: -2 (double flat) to 2 (double sharp).</param>
/// <param name="Octave">Scientific pitch octave: middle C is C4.</param>
public readonly record struct PitchSpelling(char Step, int Alter, int Octave)
{
    private const string Steps = "CDEFGAB";
    private static readonly int[] _stepSemitones = [0, 2, 4, 5, 7, 9, 11];

    /// <summary>The MIDI number of this pitch; 60 is C4. The octave is the letter's: C-flat 4 is 59, B-sharp 3 is 60.</summary>
    /// <exception cref="InvalidOperationException">The step is not a letter from 'A' to 'G'.</exception>
    public int MidiPitch => (12 * (Octave + 1)) + _stepSemitones[StepIndex] + Alter;

    /// <summary>Place of the letter counted from C: 0 for C to 6 for B.</summary>
    /// <exception cref="InvalidOperationException">The step is not a letter from 'A' to 'G'.</exception>
    public int StepIndex => Steps.IndexOf(Step, StringComparison.Ordinal) is var index and >= 0
        ? index
        : throw new InvalidOperationException($"'{Step}' is no note letter; use A to G.");

    /// <summary>Spells a MIDI number as a reader of the given key expects it.</summary>
    /// <param name="midiPitch">MIDI number; 60 is C4.</param>
    /// <param name="keyFifths">Key signature: sharps positive, flats negative, -7 to 7.</param>
    /// <remarks>Of the names a pitch can bear, the one within three fifths below the key note of the major key and eight above: the seven
    /// notes of the key, then (in C) F-sharp, C-sharp, G-sharp, B-flat and E-flat. Common practice.</remarks>
    public static PitchSpelling FromMidi(int midiPitch, int keyFifths = 0)
    {
        const int LowestBelowKeyNote = 3;
        int lowest = keyFifths - LowestBelowKeyNote;
        int pitchClass = Modulo(midiPitch, 12);
        int fifths = lowest + Modulo((7 * pitchClass) - lowest, 12); // 7 is its own inverse modulo 12
        return FromFifths(fifths, midiPitch);
    }

    /// <summary>For example "C4", "F#3", "Bb2", "Cbb5".</summary>
    public override string ToString() =>
        string.Create(CultureInfo.InvariantCulture, $"{Step}{new string(Alter < 0 ? 'b' : '#', Math.Abs(Alter))}{Octave}");

    /// <summary>The name at a place on the line of fifths (C is 0, G 1, F -1) that sounds as the given MIDI number.</summary>
    internal static PitchSpelling FromFifths(int fifths, int midiPitch)
    {
        int alter = (int)Math.Floor((fifths + 1) / 7.0);
        char step = "FCGDAEB"[Modulo(fifths + 1, 7)];
        int natural = midiPitch - alter;
        return new PitchSpelling(step, alter, (int)Math.Floor(natural / 12.0) - 1);
    }

    /// <summary>Place on the line of fifths: C is 0, G 1, F -1, F-sharp 6.</summary>
    internal int Fifths => "FCGDAEB".IndexOf(Step, StringComparison.Ordinal) - 1 + (7 * Alter);

    private static int Modulo(int value, int divisor) => ((value % divisor) + divisor) % divisor;
}
