using System.Globalization;

namespace EarCoach.Core.Passages;

/// <summary>What is added to a written pitch to get the sounding one.</summary>
/// <param name="Diatonic">Staff steps, without whole octaves that <paramref name="OctaveChange"/> holds; a horn in F has -4.</param>
/// <param name="Chromatic">Semitones, without whole octaves that <paramref name="OctaveChange"/> holds; a horn in F has -7.</param>
/// <param name="OctaveChange">Octaves besides; a double bass has -1.</param>
/// <remarks>The three numbers are those of the transpose element of MusicXML 4.0 (W3C Music Notation Community Group).</remarks>
public readonly record struct Transposition(int Diatonic, int Chromatic, int OctaveChange = 0)
{
    /// <summary>Written pitch is sounding pitch.</summary>
    public static Transposition None => default;

    /// <summary>The plain interval of so many semitones: 3 is a minor third, 7 a fifth, 6 an augmented fourth.</summary>
    /// <param name="semitones">Added to the written pitch; may be negative and more than an octave.</param>
    public static Transposition OfSemitones(int semitones)
    {
        ReadOnlySpan<int> steps = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6];
        int octaves = Math.Abs(semitones) / 12;
        int rest = Math.Abs(semitones) % 12;
        int sign = Math.Sign(semitones);
        return new Transposition(sign * steps[rest], sign * rest, sign * octaves);
    }

    /// <summary>Semitones added to the written pitch; negative sounds lower than written.</summary>
    public int Semitones => Chromatic + (12 * OctaveChange);

    /// <summary>Staff steps added to the written pitch.</summary>
    public int StaffSteps => Diatonic + (7 * OctaveChange);

    /// <summary>How far the interval moves a note on the line of fifths: a fifth up 1, an octave 0, a major second up 2.</summary>
    public int Fifths => (7 * Chromatic) - (12 * Diatonic);

    /// <summary>For example "sounds 7 semitones lower".</summary>
    public override string ToString() => Semitones switch
    {
        0 => "sounds as written",
        1 => "sounds 1 semitone higher",
        -1 => "sounds 1 semitone lower",
        > 0 => string.Create(CultureInfo.InvariantCulture, $"sounds {Semitones} semitones higher"),
        _ => string.Create(CultureInfo.InvariantCulture, $"sounds {-Semitones} semitones lower"),
    };
}
