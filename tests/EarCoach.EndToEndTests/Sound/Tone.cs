namespace EarCoach.EndToEndTests.Sound;

/// <summary>A plain blown tone: ten harmonics that fall off, a soft attack and a soft end.</summary>
internal static class Tone
{
    private const int Harmonics = 10;
    private const double AttackSeconds = 0.025;
    private const double ReleaseSeconds = 0.04;
    private const double Peak = 0.25;

    /// <summary>Adds a note to the samples.</summary>
    public static void Add(float[] samples, PlayedNote note, int sampleRateHz)
    {
        double hz = 440 * Math.Pow(2, (note.Midi - 69) / 12);
        int start = (int)(note.OnsetSeconds * sampleRateHz);
        int length = (int)(note.LengthSeconds * sampleRateHz);
        double norm = Enumerable.Range(1, Harmonics).Sum(Weight);
        for (int i = 0; i < length && start + i < samples.Length; i++)
        {
            double t = (double)i / sampleRateHz;
            double left = (double)(length - i) / sampleRateHz;
            double gain = Math.Min(1, Math.Min(t / AttackSeconds, left / ReleaseSeconds));
            double sum = 0;
            for (int n = 1; n <= Harmonics && n * hz < sampleRateHz * 0.45; n++)
            {
                sum += Weight(n) * Math.Sin(2 * Math.PI * n * hz * t);
            }

            samples[start + i] += (float)(Peak * gain * sum / norm);
        }
    }

    private static double Weight(int harmonic) => Math.Pow(harmonic, -1.2);
}
