using System.Runtime.InteropServices;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>What the decoder makes of frames that say one thing only.</summary>
public sealed class RegionDecoderTests
{
    private const int FramesPerSecond = 200;

    // Broken off before a leap, and begun again: the next note due lies more than an octave above what is heard. A common period of two
    // tones may lie so far below a note, but these are no two tones.
    [Fact]
    public void WhatLiesFarBelowTheNoteDue_IsNotTakenForIt()
    {
        (double Midi, double Seconds)[] notes = [(65, 0.25), (67, 0.25), (71, 0.25), (77, 0.25), (84, 1), (86, 1)];
        var frames = new List<HeardFrame>();
        Add(frames, null, 0.2);
        Add(frames, notes[..4]);

        Add(frames, null, 1.4);
        int again = frames.Count;
        Add(frames, notes);

        Add(frames, null, 0.3);
        List<AttemptPath> attempts = Attempts([.. frames], notes, slurred: true);
        attempts.Should().HaveCount(2);
        attempts[0].LastIndex.Should().Be(3);
        attempts[1].FirstFrame.Should().BeCloseTo(again, 4);
        attempts[1].SoundsEveryNote.Should().BeTrue();
        attempts.SelectMany(a => a.Steps).Should().NotContain(step => step.Activity == Activity.Other);
    }

    // A slur up a fifth in a hall: a common period of the note and of the one that rings on is plainer than either, and the passage's first note
    // lies nearer to it. But nobody has begun again on a wrong pitch.
    [Fact]
    public void TheCommonPeriodOfTwoNotes_SaysNothingAgainstTheSecond()
    {
        (double Midi, double Seconds)[] notes = [(70, 0.5), (71, 0.2), (71, 0.5), (73, 0.3), (75, 0.2), (73, 0.9), (75, 0.3), (82, 0.3), (77, 0.3)];
        var frames = new List<HeardFrame>();
        Add(frames, null, 0.2);
        Add(frames, notes[..7]);

        int leap = frames.Count;
        Add(frames, 63, 0.3);
        foreach (ref HeardFrame frame in CollectionsMarshal.AsSpan(frames)[leap..])
        {
            frame.CandidateCount = 2;
            frame.Candidates[1] = new PitchCandidate(82, 0.6f, -4.5f);
        }

        Add(frames, null, 0.3);
        AttemptPath attempt = Attempts([.. frames], notes, slurred: true).Should().ContainSingle().Which;
        attempt.Steps.Should().NotContain(step => step.Activity == Activity.Other);
        attempt.Steps.Should().ContainSingle(step => step.Index == 7 && step.Activity == Activity.Note).Which.FirstFrame.Should().BeCloseTo(leap, 4);
    }

    // A hole in a note is short: what comes after more than a second is a new attempt, though it begin flat.
    [Fact]
    public void AfterALongSilence_ANoteDoesNotGoOn()
    {
        (double Midi, double Seconds)[] notes = [(58, 0.3), (60, 0.6), (63, 0.3), (65, 0.15), (69, 0.15), (67, 0.3)];
        var frames = new List<HeardFrame>();
        Add(frames, null, 0.2);
        Add(frames, 58, 0.3);
        Add(frames, 60, 0.55);
        Add(frames, null, 1.4);
        int again = frames.Count;
        Add(frames, 57.3, 0.3);
        Add(frames, notes[1..]);

        Add(frames, null, 0.3);
        List<AttemptPath> attempts = Attempts([.. frames], notes, slurred: false);
        attempts.Should().HaveCount(2);
        attempts[1].FirstFrame.Should().BeCloseTo(again, 4);
    }

    // Broken off before a note of the same pitch as the first, which comes after a pause that is not written.
    [Fact]
    public void AfterALongPause_ThePassageIsBegunAgain()
    {
        (double Midi, double Seconds)[] notes = [(69, 0.3), (67, 0.6), (69, 0.3), (72, 0.3), (74, 0.15), (75, 0.15), (70, 0.6)];
        var frames = new List<HeardFrame>();
        Add(frames, null, 0.2);
        Add(frames, 69, 0.3);
        Add(frames, 67, 0.55);
        Add(frames, null, 1.3);
        int again = frames.Count;
        Add(frames, notes);

        Add(frames, null, 0.3);
        List<AttemptPath> attempts = Attempts([.. frames], notes, slurred: false);
        attempts.Should().HaveCount(2);
        attempts[0].LastIndex.Should().Be(1);
        attempts[1].FirstFrame.Should().BeCloseTo(again, 4);
        attempts[1].SoundsEveryNote.Should().BeTrue();
    }

    // A pause of an eighth note more than is written is a hesitation: the attempt goes on.
    [Fact]
    public void AfterAShortHesitation_TheAttemptGoesOn()
    {
        (double Midi, double Seconds)[] notes = [(69, 0.3), (67, 0.6), (69, 0.3), (72, 0.3), (74, 0.3), (70, 0.6)];
        var frames = new List<HeardFrame>();
        Add(frames, null, 0.2);
        Add(frames, 69, 0.3);
        Add(frames, 67, 0.55);
        Add(frames, null, 0.35);
        Add(frames, notes[2..]);

        Add(frames, null, 0.3);
        Attempts([.. frames], notes, slurred: false).Should().ContainSingle().Which.SoundsEveryNote.Should().BeTrue();
    }

    // The ring of the attempt before has the passage's pitches too, but it is much weaker than what is played after it.
    [Theory]
    [InlineData(-46, 1)]
    [InlineData(-34, 2)]
    public void TheRingOfWhatWasBefore_IsNoAttempt(float levelDbfs, int attempts)
    {
        (double Midi, double Seconds)[] notes = [(62, 0.4), (65, 0.4), (69, 0.4), (67, 0.4), (60, 0.4)];
        var frames = new List<HeardFrame>();
        Add(frames, 62, 0.4, levelDbfs);
        Add(frames, 65, 0.3, levelDbfs);
        Add(frames, null, 0.9);
        Add(frames, notes);

        Add(frames, null, 0.3);
        HeardFrame[] heard = [.. frames];
        TargetNote[] targets = Targets(notes, slurred: false);
        var sound = new RegionSound(heard, new AnalysisSamples(1), 1, 240 * FramesPerSecond, FramesPerSecond);
        FalseStart.CutOff(Attempts(heard, notes, slurred: false), targets, sound, RegionEvidence.From(heard, FramesPerSecond)).Should().HaveCount(attempts);
    }

    // Five notes, the fourth 0.6 s too late and with a scooped attack that no semitone fits: it goes on with the attempt and begins none.
    [Theory]
    [InlineData(3, 67)]
    [InlineData(4, 62)]  // or the fifth, the fourth left out
    [InlineData(2, 69)]  // or the third once more: what a dropout left of it
    [InlineData(null, 71)]
    [InlineData(null, 62, 2)]
    public void ASingleNoteThatWouldGoOn_IsTheTailOfTheAttempt(int? index, int midi, int notes = 1)
    {
        TargetNote[] targets = Targets([(60, 0.4), (65, 0.4), (69, 0.4), (67, 0.4), (62, 0.4)], slurred: false);
        List<PathStep> steps = [new(Activity.Other, 0, midi, 500, 560)];
        steps.AddRange(Enumerable.Range(1, notes - 1).Select(i => new PathStep(Activity.Note, i, 0, 500 + (i * 70), 560 + (i * 70))));
        FalseStart.TailOf(AttemptPath.Split(steps, targets.Length)[0], last: 2, targets).Should().Be(index);
    }

    private static List<AttemptPath> Attempts(HeardFrame[] frames, (double Midi, double Seconds)[] notes, bool slurred)
    {
        TargetNote[] targets = Targets(notes, slurred);
        List<PathStep> steps = new RegionDecoder(targets, 0, FramesPerSecond).Decode(frames, RegionEvidence.From(frames, FramesPerSecond));
        return AttemptPath.Split(steps, targets.Length);
    }

    private static TargetNote[] Targets((double Midi, double Seconds)[] notes, bool slurred)
    {
        double due = 0;
        return [.. notes.Select(n => new TargetNote(n.Midi, (due += n.Seconds) - n.Seconds, n.Seconds, slurred, true))];
    }

    private static void Add(List<HeardFrame> frames, IEnumerable<(double Midi, double Seconds)> notes)
    {
        foreach ((double midi, double seconds) in notes)
        {
            Add(frames, midi, seconds);
        }
    }

    /// <summary>A pure tone, or the noise of a room.</summary>
    private static void Add(List<HeardFrame> frames, double? midi, double seconds, float levelDbfs = -30)
    {
        for (int t = 0; t < seconds * FramesPerSecond; t++)
        {
            var frame = new HeardFrame { CentreSample = frames.Count * 240L, LevelDbfs = midi is null ? -66 : levelDbfs, FloorDbfs = -70, CandidateCount = midi is null ? 0 : 1 };
            frame.Candidates[0] = new PitchCandidate((float)(midi ?? 0), 0.98f, 0);
            frames.Add(frame);
        }
    }
}
