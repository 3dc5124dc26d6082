using EarCoach.Core.Listening;

namespace EarCoach.ReferenceTests;

/// <summary>What the listener heard in a sound that it knows nothing about but the range.</summary>
internal sealed record Heard(IReadOnlyList<PitchPoint> Pitches)
{
    private const double LeastClarity = 0.6;

    /// <param name="sound">What is heard.</param>
    /// <param name="lowestMidi">Lowest note of the instrument.</param>
    /// <param name="highestMidi">Highest note of the instrument.</param>
    public static Heard In(Sound sound, int lowestMidi, int highestMidi)
    {
        var listener = new Listener(new ListenerOptions
        {
            SampleRateHz = sound.SampleRateHz,
            LowestPitchHz = Hz(lowestMidi - 1),
            LikelyLowestPitchHz = Hz(lowestMidi),
            HighestPitchHz = Math.Min(Hz(highestMidi + 1), sound.SampleRateHz / 3.5),
        });
        var points = new List<PitchPoint>();
        var frames = new HeardFrame[listener.MaxFrames(1024)];
        for (int at = 0; at < sound.Samples.Length; at += 1024)
        {
            int count = listener.Process(new AudioBlock(sound.Samples.AsSpan(at, Math.Min(1024, sound.Samples.Length - at)), at), frames);
            for (int i = 0; i < count; i++)
            {
                points.Add(new PitchPoint((double)frames[i].CentreSample / sound.SampleRateHz, frames[i].Clarity >= LeastClarity ? frames[i].Midi : null, frames[i].LevelDbfs));
            }
        }

        return new Heard(points);
    }

    private static double Hz(int midi) => 440 * Math.Pow(2, (midi - 69) / 12.0);
}
