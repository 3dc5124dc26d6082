using EarCoach.Core.Passages;
using FluentAssertions;

namespace EarCoach.ReferenceTests;

/// <summary>Trials in which one note of a passage is changed.</summary>
internal static class Trials
{
    /// <summary>The passage with another pitch for one note.</summary>
    public static Passage WithPitch(this Passage passage, int index, int midiPitch) =>
        passage with { Notes = passage.Notes.SetItem(index, passage.Notes[index] with { MidiPitch = midiPitch }) };

    /// <summary>Asserts that there were enough trials and that so large a share of them went right.</summary>
    /// <param name="trials">What was wrong in each; null where nothing was.</param>
    /// <param name="leastShare">The least share that must be right.</param>
    /// <param name="moreThan">How many trials are not enough.</param>
    public static void ShouldMostlyBeRight(this IEnumerable<string?> trials, double leastShare, int moreThan)
    {
        string?[] tried = [.. trials];
        string[] wrong = [.. tried.OfType<string>()];
        tried.Should().HaveCountGreaterThan(moreThan);
        wrong.Length.Should().BeLessThanOrEqualTo((int)((1 - leastShare) * tried.Length), $"of {tried.Length} {string.Join("; ", wrong)}");
    }
}
