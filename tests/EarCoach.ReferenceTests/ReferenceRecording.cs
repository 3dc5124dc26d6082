using System.Text.Json;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;

namespace EarCoach.ReferenceTests;

/// <summary>One of the project's recordings, with when its attempts begin and end.</summary>
internal sealed record ReferenceRecording(Sound Sound, Passage Passage, Tolerances Tolerances, (double Start, double End)[] Attempts)
{
    public static ReferenceRecording Read(string name)
    {
        using JsonDocument truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(Places.Repository, "reference-audio", name + ".json")));
        JsonElement tolerance = truth.RootElement.GetProperty("tolerance");
        return new ReferenceRecording(
            Sound.Read(Path.Combine(Places.Repository, "reference-audio", name + ".wav")),
            Places.PassageOf(name),
            new Tolerances { Cents = tolerance.GetProperty("cents").GetDouble(), OnsetMs = tolerance.GetProperty("ms").GetDouble() },
            [.. truth.RootElement.GetProperty("attempts").EnumerateArray().Select(a => (a.GetProperty("start").GetDouble(), a.GetProperty("end").GetDouble()))]);
    }

    /// <summary>What the ear says of it, or of the same among other sounds.</summary>
    public IReadOnlyList<AttemptResult> Judge(Sound sound) => sound.JudgedAs(Passage, Tolerances);
}
