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
        Passages().Where(passage => Rendered(passage, passage).Verdict != Verdict.Clean).Select(passage => passage.Title).Should().BeEmpty();

    [Theory]
    [InlineData(12)]
    [InlineData(-12)]
    public void OneNoteAnOctaveOff_IsMissed(int semitones)
    {
        var passed = new List<string>();
        int tried = 0;
        foreach (Passage passage in Passages())
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

    private static IEnumerable<Passage> Passages() =>
        Places.PassageFiles.Select(Path.GetFileNameWithoutExtension).Select(name => Places.PassageOf(name!) with { Title = name! });

    /// <summary>What the ear says, held against a passage, of the longest attempt in what fluidsynth makes of another.</summary>
    private static AttemptResult Rendered(Passage played, Passage passage)
    {
        string path = Path.Combine(Path.GetTempPath(), $"earcoach-{Guid.NewGuid():N}.mid");
        try
        {
            File.WriteAllBytes(path, MidiPassageWriter.ToBytes(played));
            Sound sound = Fluidsynth.Render(path).Framed(0.5, 0.03);
            return sound.JudgedAs(passage, new Tolerances { Timing = TimingMode.Off }).MaxBy(attempt => attempt.EndSeconds - attempt.StartSeconds)!;
        }
        finally
        {
            File.Delete(path);
        }
    }
}
