using System.Collections.Immutable;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>What a note is, where the decoder's account of it has more than one pitch.</summary>
public sealed class NoteMeasurerTests
{
    private const double At = 0.6;

    // E flat (63) is written. For 0.08 s another pitch is heard, then 63 for 0.035: on the way to the next note where it was 63 out of tune; a note
    // that was begun on another one where that is a whole tone off.
    [Theory]
    [InlineData(62.3, 62, 62.3)]
    [InlineData(61, 61, 63)]
    public void AShortNoteOutOfTune_IsNotWhatIsPassedAtItsEnd(double sounds, int semitone, double heard)
    {
        const double OtherSeconds = 0.08;
        const double RightSeconds = 0.035;
        double begins = At + Playing.QuarterSeconds;
        Playing playing = new Playing(4).Note(60, At, Playing.QuarterSeconds - 0.05).Note(sounds, begins, OtherSeconds).Note(63, begins + OtherSeconds, RightSeconds + 0.02);
        MeasuredNote measured = Measured(playing, begins, begins + OtherSeconds + RightSeconds, begins + OtherSeconds, (first, then, end) =>
            [new PathStep(Activity.Other, 1, semitone, first, then), new PathStep(Activity.Note, 1, 0, then, end)], written: [60, 63]);
        measured.HeardMidi.Should().BeApproximately(heard, 0.15);
    }

    // E4 (64) is held where E flat (63) is written: for 0.04 s, on the way, the sound passes the right pitch. Or it is held, and E4 is passed.
    [Theory]
    [InlineData(0.04, 64)]
    [InlineData(0.40, 63)]
    public void APitchThatIsPassed_IsNotTheNote(double rightSeconds, int heard)
    {
        double begins = At + Playing.QuarterSeconds;
        Playing playing = new Playing(4).Note(62, At, Playing.QuarterSeconds).Note(63, begins, rightSeconds).Note(64, begins + rightSeconds, 0.5 - rightSeconds);
        MeasuredNote measured = Measured(playing, begins, begins + 0.5, begins + rightSeconds, (first, then, end) =>
            [new PathStep(Activity.Note, 1, 0, first, then), new PathStep(Activity.Other, 1, 64, then, end)], written: [62, 63]);
        measured.HeardMidi.Should().BeApproximately(heard, 0.1);
    }

    // E flat (63) for 0.16 s, three quarters of a semitone sharp, and then F (65): the decoder has half of it for an E (64) with which the F begins. What
    // glides from E flat to F is not held.
    [Theory]
    [InlineData(0.75, 0.75, 0.75)]
    [InlineData(0.2, 1.6, null)]
    public void AShortNoteOutOfTune_GoesOnInWhatSeemedTheBeginningOfTheNext(double off, double offAtEnd, double? heardOff)
    {
        const double Seconds = 0.16;
        double begins = At + Playing.QuarterSeconds;
        Playing playing = new Playing(4).Note(60, At, Playing.QuarterSeconds - 0.05).Moving(within => 63 + off + ((offAtEnd - off) * within / Seconds), begins, Seconds).Note(65, begins + Seconds, 0.4);
        MeasuredNote measured = Measured(playing, [60, 63, 65], Played, (sound, path, targets) =>
        {
            var attempt = MeasuredAttempt.Of(sound, path, targets, new OctaveTest(sound, targets, new UsualTone()));
            attempt.Notes[2] = attempt.Notes[2] with { OnsetSeconds = begins + Seconds }; // its own harmonics rise there
            attempt.GiveBeginningsBack(path);
            return attempt.Notes[1];
        });
        measured.SemitoneOnly.Should().Be(heardOff is null);
        (heardOff is null || Math.Abs(measured.HeardMidi!.Value - 63 - heardOff.Value) < 0.1).Should().BeTrue();

        PathStep[] Played(RegionSound sound)
        {
            int[] cuts = [sound.FrameAt(begins), sound.FrameAt(begins + 0.08), sound.FrameAt(begins + Seconds), sound.FrameAt(begins + 0.5)];
            return [new(Activity.Note, 1, 0, cuts[0], cuts[1]), new(Activity.Other, 2, 64, cuts[1], cuts[2]), new(Activity.Note, 2, 0, cuts[2], cuts[3])];
        }
    }

    // Our definition: a note heard for less than 30 ms is missing. Of one that should last a quarter, and that only silence follows, no more than that was
    // heard in the end of the note before.
    [Theory]
    [InlineData(5, false)]
    [InlineData(8, true)]
    public void AGlimpseOfAPitch_BeforeARest_IsNoNote(int frames, bool isHeard)
    {
        double begins = At + Playing.QuarterSeconds;
        Playing playing = new Playing(4).Note(60, At, Playing.QuarterSeconds).Note(65, begins + Playing.QuarterSeconds, 0.5);
        MeasuredNote measured = Measured(playing, [60, 63, 65], Played, (sound, path, targets) =>
            MeasuredAttempt.Of(sound, path, targets, new OctaveTest(sound, targets, new UsualTone())).Notes[1]);
        measured.OnsetSeconds.HasValue.Should().Be(isHeard);

        PathStep[] Played(RegionSound sound)
        {
            int first = sound.FrameAt(begins);
            int next = sound.FrameAt(begins + Playing.QuarterSeconds);
            return [new(Activity.Note, 1, 0, first, first + frames), new(Activity.Rest, 1, 0, first + frames, next), new(Activity.Note, 2, 0, next, sound.FrameAt(begins + Playing.QuarterSeconds + 0.5))];
        }
    }

    /// <summary>What is measured of the second note, of which two things are heard, the second from a moment on.</summary>
    private static MeasuredNote Measured(Playing playing, double begins, double ends, double then, Func<int, int, int, PathStep[]> second, int[] written) => Measured(
        playing, written, sound => second(sound.FrameAt(begins), sound.FrameAt(then), sound.FrameAt(ends)),
        (sound, path, targets) => NoteMeasurer.Measure(sound, path, 1, targets[1], ImmutableArray.CreateBuilder<ExtraNote>()));

    /// <summary>What is measured where the decoder's account is its own of the first note only.</summary>
    private static MeasuredNote Measured(
        Playing playing, int[] written, Func<RegionSound, PathStep[]> later, Func<RegionSound, AttemptPath, TargetNote[], MeasuredNote> measure)
    {
        Passage passage = Playing.Quarters(written);
        TargetNote[] targets = TaskTargets.Of(new JudgingTask(passage, null, new Tolerances()));
        MeasuredNote? measured = null;
        playing.HeardAs(passage, closed: (sound, account) =>
        {
            PathStep[] steps = [.. account.Attempts[0].Steps.Where(step => step.Index == 0), .. later(sound)];
            measured = measure(sound, AttemptPath.Split(steps, written.Length)[0], targets);
        });
        return measured!.Value;
    }
}
