using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Scores.Midi;
using FluentAssertions;
using Xunit;

namespace EarCoach.ReferenceTests;

/// <summary>
/// The project's passages played by fluidsynth, an independent renderer, with one note an octave off: an octave is another pitch
/// (common practice), however alike the two sound.
/// </summary>
public sealed class OctaveTests
{
    private const int LongestNotes = 3; // of each passage
    private const double LeastShare = 0.85; // a tone with hardly a harmonic of its own octave may pass: doubt is in the player's favour

    [Fact]
    public void PlayedAsWritten_IsClean() =>
        Places.Passages().Where(passage => Rendered(passage, passage).Verdict != Verdict.Clean).Select(passage => passage.Title).Should().BeEmpty();

    [Theory]
    [InlineData(12)]
    [InlineData(-12)]
    public void OneNoteAnOctaveOff_IsMissed(int semitones)
    {
        var passed = new List<string>();
        int tried = 0;
        foreach (Passage passage in Places.Passages())
        {
            foreach (int index in Enumerable.Range(0, passage.Notes.Length).OrderByDescending(i => passage.Notes[i].Length.ToDouble()).Take(LongestNotes))
            {
                tried++;
                Passage played = passage with { Notes = [.. passage.Notes.Select((n, i) => i == index ? n with { MidiPitch = n.MidiPitch + semitones } : n)] };
                if (Rendered(played, passage) is not { Verdict: Verdict.Missed } attempt || attempt.Notes[index].Faults.IsEmpty)
                {
                    passed.Add($"{passage.Title}, note {index}");
                }
            }
        }

        tried.Should().BeGreaterThan(15);
        passed.Count.Should().BeLessThanOrEqualTo((int)((1 - LeastShare) * tried), string.Join("; ", passed));
    }

    private static AttemptResult Rendered(Passage played, Passage passage) =>
        Fluidsynth.Render(MidiPassageWriter.ToBytes(played)).LongestJudgedAs(passage, new Tolerances { Timing = TimingMode.Off });
}
