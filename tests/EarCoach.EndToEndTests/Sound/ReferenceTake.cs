using System.Text.Json;
using EarCoach.Audio;

namespace EarCoach.EndToEndTests.Sound;

/// <summary>A recording of reference-audio with its truth: see the README there.</summary>
internal sealed record ReferenceTake(string WavPath, string MidiPath, int SampleRateHz, float[] Samples, IReadOnlyList<ReferenceAttempt> Attempts)
{
    /// <summary>Reads it from the repository's files laid beside the program.</summary>
    public static ReferenceTake Read(string name)
    {
        string folder = Path.Combine(AppContext.BaseDirectory, "demo");
        string wav = Path.Combine(folder, name + ".wav");
        using WavFileSource source = WavFileSource.Open(wav);
        float[] samples = new float[source.LengthSamples!.Value];
        for (int done = 0, read = 1; read > 0; done += read)
        {
            read = source.Read(samples.AsSpan(done));
        }

        using JsonDocument truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "truth", name + ".json")));
        return new ReferenceTake(wav, Path.Combine(folder, name + ".mid"), source.SampleRateHz, samples,
            [.. truth.RootElement.GetProperty("attempts").EnumerateArray().Select(ReferenceAttempt.Of)]);
    }
}
