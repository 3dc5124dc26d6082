using EarCoach.Core.Tracing;

namespace EarCoach.ReferenceTests;

/// <summary>What the tracer heard in a sound that it knows nothing about but the range.</summary>
internal sealed record Heard(IReadOnlyList<PitchPoint> Pitches)
{
    /// <param name="sound">What is heard.</param>
    /// <param name="lowestMidi">Lowest note of the instrument.</param>
    /// <param name="highestMidi">Highest note of the instrument.</param>
    public static Heard In(Sound sound, int lowestMidi, int highestMidi)
    {
        var tracer = new PitchTracer(new TracerOptions
        {
            SampleRateHz = sound.SampleRateHz,
            LowestPitchHz = Math.Max(22, Hz(lowestMidi - 1)),
            HighestPitchHz = Math.Min(Hz(highestMidi + 1), sound.SampleRateHz / 3.5),
        });
        var frames = new TracedFrame[tracer.MaxFrames(sound.Samples.Length) + tracer.MaxFrames(0)];
        int count = tracer.Process(sound.Samples, frames);
        count += tracer.Finish(frames.AsSpan(count));
        return new Heard([.. frames[..count].Select(f => new PitchPoint((double)f.CentreSample / sound.SampleRateHz, f.Voiced ? f.Midi : null, f.LevelDbfs))]);
    }

    private static double Hz(int midi) => 440 * Math.Pow(2, (midi - 69) / 12.0);
}
