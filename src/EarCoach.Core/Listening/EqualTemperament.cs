namespace EarCoach.Core.Listening;

/// <summary>Pitch numbers and frequencies in equal temperament.</summary>
/// <remarks>The A above middle C is MIDI note 69, 440 Hz in the tuning of ISO 16:1975; twelve equal semitones make an octave.</remarks>
public static class EqualTemperament
{
    /// <summary>The A of ISO 16:1975, in hertz.</summary>
    public const double StandardA4Hz = 440;

    /// <summary>Frequency of a pitch, in hertz.</summary>
    /// <param name="midi">MIDI number; fractions lie between the semitones.</param>
    /// <param name="a4Hz">The A that is tuned to, in hertz.</param>
    public static double HzOf(double midi, double a4Hz = StandardA4Hz) => a4Hz * Math.Pow(2, (midi - 69) / 12);

    /// <summary>Fractional MIDI number of a frequency.</summary>
    /// <param name="hz">More than 0.</param>
    /// <param name="a4Hz">The A that is tuned to, in hertz.</param>
    public static double MidiOf(double hz, double a4Hz = StandardA4Hz) => 69 + (12 * Math.Log2(hz / a4Hz));
}
