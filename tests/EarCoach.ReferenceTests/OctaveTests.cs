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
    private const int ShortestNotes = 4;
    private const double BetweenSeconds = 2;
    private const double LeastShare = 0.85; // a tone with hardly a harmonic of its own octave may pass: doubt is in the player's favour

    [Fact]
    public void PlayedAsWritten_IsClean() =>
        Places.Passages().Where(passage => Rendered(passage, passage).Verdict != Verdict.Clean).Select(passage => passage.Title).Should().BeEmpty();

    [Theory]
    [InlineData(12)]
    [InlineData(-12)]
    public void OneNoteAnOctaveOff_IsMissed(int semitones)
    {
        IEnumerable<string?> trials =
            from passage in Places.Passages()
            from index in Enumerable.Range(0, passage.Notes.Length).OrderByDescending(i => passage.Notes[i].Length.ToDouble()).Take(LongestNotes)
            let attempt = Rendered(passage.WithPitch(index, passage.Notes[index].MidiPitch + semitones), passage)
            select attempt is { Verdict: Verdict.Missed } && !attempt.Notes[index].Faults.IsEmpty ? null : $"{passage.Title}, note {index}";
        trials.ShouldMostlyBeRight(LeastShare, moreThan: 15);
    }

    // What the tone of a short note does not tell by itself is told by how it sounded in the attempts before.
    [Fact]
    public void AfterTwoRightAttempts_OneShortNoteAnOctaveTooHigh_IsMissed()
    {
        IEnumerable<string?> trials =
            from passage in Places.Passages()
            let right = Fluidsynth.Render(MidiPassageWriter.ToBytes(passage))
            from index in Enumerable.Range(0, passage.Notes.Length).OrderBy(i => passage.Notes[i].Length.ToDouble()).Take(ShortestNotes)
            let slipped = Fluidsynth.Render(MidiPassageWriter.ToBytes(passage.WithPitch(index, passage.Notes[index].MidiPitch + 12)))
            let attempts = right.FollowedBy(right, BetweenSeconds).FollowedBy(slipped, BetweenSeconds).JudgedAs(passage, new Tolerances())
            let isRight = attempts is [{ Verdict: Verdict.Clean }, { Verdict: Verdict.Clean }, { Verdict: Verdict.Missed } last]
                && last.Notes[index].Faults.Contains(NoteFault.WrongPitch)
            select isRight ? null : $"{passage.Title}, note {index}: {string.Join(' ', attempts.Select(attempt => attempt.Verdict))}";
        trials.ShouldMostlyBeRight(1, moreThan: 20);
    }

    private static AttemptResult Rendered(Passage played, Passage passage) =>
        Fluidsynth.Render(MidiPassageWriter.ToBytes(played)).LongestJudgedAs(passage, new Tolerances { Timing = TimingMode.Off });
}
