namespace EarCoach.Core.Tests.Listening;

/// <summary>Sounds made by arithmetic.</summary>
internal static class Tones
{
    /// <summary>Frequency of a MIDI note: equal temperament, A4 = 440 Hz is note 69 (ISO 16:1975; MIDI 1.0 numbers 60 as middle C).</summary>
    public static double Hz(double midi) => 440 * Math.Pow(2, (midi - 69) / 12);

    /// <summary>MIDI number of a frequency, likewise.</summary>
    public static double Midi(double hz) => 69 + (12 * Math.Log2(hz / 440));

    /// <summary>A tone of harmonics with amplitudes as given; those at or above 0.45 of the sample rate are left out.</summary>
    public static float[] Harmonic(double hz, double seconds, int rateHz, params double[] amplitudes) =>
        Sampled(seconds, rateHz, t => amplitudes.Select((a, k) => (k + 1) * hz < 0.45 * rateHz ? a * Math.Sin(2 * Math.PI * (k + 1) * hz * t) : 0).Sum());

    /// <summary>A tone whose frequency swings by so many cents to each side and whose amplitude by a share.</summary>
    public static float[] Vibrato(double hz, double swingCents, double swingShare, double swingHz, double seconds, int rateHz)
    {
        float[] sound = new float[(int)(seconds * rateHz)];
        double phase = 0;
        for (int i = 0; i < sound.Length; i++)
        {
            double swing = Math.Sin(2 * Math.PI * swingHz * i / rateHz);
            phase += 2 * Math.PI * hz * Math.Pow(2, swingCents * swing / 1200) / rateHz;
            sound[i] = (float)(0.2 * (1 + (swingShare * swing)) * (Math.Sin(phase) + (0.5 * Math.Sin(2 * phase)) + (0.3 * Math.Sin(3 * phase))));
        }

        return sound;
    }

    /// <summary>White noise between plus and minus the amplitude.</summary>
    public static float[] Noise(double amplitude, double seconds, int rateHz, uint seed = 12_345)
    {
        float[] sound = new float[(int)(seconds * rateHz)];
        for (int i = 0; i < sound.Length; i++)
        {
            seed = (seed * 1_664_525) + 1_013_904_223; // Numerical Recipes' generator
            sound[i] = (float)(amplitude * (((seed >> 8) / 8_388_608.0) - 1));
        }

        return sound;
    }

    /// <summary>Samples a function of time.</summary>
    public static float[] Sampled(double seconds, int rateHz, Func<double, double> value) =>
        [.. Enumerable.Range(0, (int)(seconds * rateHz)).Select(i => (float)value((double)i / rateHz))];

    /// <summary>One after the other.</summary>
    public static float[] Join(params float[][] parts) => [.. parts.SelectMany(p => p)];

    /// <summary>Both at once; the shorter counts as silent after its end.</summary>
    public static float[] Mix(float[] a, float[] b) => [.. Enumerable.Range(0, Math.Max(a.Length, b.Length)).Select(i => (i < a.Length ? a[i] : 0) + (i < b.Length ? b[i] : 0))];
}
