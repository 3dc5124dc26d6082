using EarCoach.Core.Tracing;
using EarCoach.Core.Transcription;

namespace EarCoach.ReferenceTests;

/// <summary>The notes that are heard in a sound of which nothing is known but the range.</summary>
internal static class HeardNotes
{
    /// <param name="sound">What is heard.</param>
    /// <param name="lowestMidi">Lowest note of the instrument.</param>
    /// <param name="highestMidi">Highest note of the instrument.</param>
    public static IReadOnlyList<HeardNote> In(Sound sound, int lowestMidi, int highestMidi)
    {
        var tracer = new NoteTracer(new TracerOptions
        {
            SampleRateHz = sound.SampleRateHz,
            LowestPitchHz = Math.Max(22, Hz(lowestMidi - 1)),
            HighestPitchHz = Math.Min(Hz(highestMidi + 1), sound.SampleRateHz / 3.5),
        });
        var notes = new List<HeardNote>();
        var written = new HeardNote[Math.Max(tracer.MaxNotes(1024), tracer.MaxNotes(0))];
        for (int at = 0; at < sound.Samples.Length; at += 1024)
        {
            int count = tracer.Process(sound.Samples.AsSpan(at, Math.Min(1024, sound.Samples.Length - at)), written);
            notes.AddRange(written[..count]);
        }

        notes.AddRange(written[..tracer.Finish(written)]);
        return notes;
    }

    private static double Hz(int midi) => 440 * Math.Pow(2, (midi - 69) / 12.0);
}
