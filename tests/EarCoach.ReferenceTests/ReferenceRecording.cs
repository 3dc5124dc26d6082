using System.Text.Json;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;
using EarCoach.Scores.Midi;

namespace EarCoach.ReferenceTests;

/// <summary>One of the project's recordings, with when its attempts begin and end.</summary>
internal sealed record ReferenceRecording(Sound Sound, Passage Passage, Tolerances Tolerances, (double Start, double End)[] Attempts)
{
    public static ReferenceRecording Read(string name)
    {
        using JsonDocument truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(Places.Repository, "reference-audio", name + ".json")));
        JsonElement tolerance = truth.RootElement.GetProperty("tolerance");
        using FileStream midi = File.OpenRead(Path.Combine(Places.Repository, "fixtures", "passages", name + ".mid"));
        return new ReferenceRecording(
            Sound.Read(Path.Combine(Places.Repository, "reference-audio", name + ".wav")),
            MidiPassageReader.Read(midi),
            new Tolerances { Cents = tolerance.GetProperty("cents").GetDouble(), OnsetMs = tolerance.GetProperty("ms").GetDouble() },
            [.. truth.RootElement.GetProperty("attempts").EnumerateArray().Select(a => (a.GetProperty("start").GetDouble(), a.GetProperty("end").GetDouble()))]);
    }

    /// <summary>What the ear says of it, or of the same among other sounds.</summary>
    public IReadOnlyList<AttemptResult> Judge(Sound sound)
    {
        var ear = new Ear(sound.SampleRateHz, new JudgingTask(Passage, null, Tolerances));
        const int BlockLength = 640;
        for (int at = 0; at < sound.Samples.Length; at += BlockLength)
        {
            ear.Hear(new AudioBlock(sound.Samples.AsSpan(at, Math.Min(BlockLength, sound.Samples.Length - at)), at));
        }

        ear.Finish();
        var attempts = new List<AttemptResult>();
        while (ear.TryTake(out AttemptResult? attempt))
        {
            attempts.Add(attempt!);
        }

        return attempts;
    }
}
