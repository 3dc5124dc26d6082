using System.Runtime.CompilerServices;
using EarCoach.Audio;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Scores.Midi;

namespace EarCoach.Benchmarks;

/// <summary>A recording of reference-audio/ in memory, and the task it was played for.</summary>
internal sealed class RecordedSession
{
    public RecordedSession(string name)
    {
        using FileStream midi = File.OpenRead(PathOf("fixtures", "passages", name + ".mid"));
        Passage passage = MidiPassageReader.Read(midi);
        Task = new JudgingTask(passage, null, new Tolerances());
        using WavFileSource source = WavFileSource.Open(PathOf("reference-audio", name + ".wav"));
        SampleRateHz = source.SampleRateHz;
        Samples = new float[source.LengthSamples!.Value];
        int at = 0;
        for (int count = source.Read(Samples); count > 0; count = source.Read(Samples.AsSpan(at)))
        {
            at += count;
        }
    }

    public JudgingTask Task { get; }

    public int SampleRateHz { get; }

    public float[] Samples { get; }

    private static string PathOf(params string[] parts) => Path.Combine([Root(), .. parts]);

    private static string Root([CallerFilePath] string here = "") => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", ".."));
}
