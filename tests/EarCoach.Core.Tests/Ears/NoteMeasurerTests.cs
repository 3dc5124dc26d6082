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

    /// <summary>What is measured of the second note, of which two things are heard, the second from a moment on.</summary>
    private static MeasuredNote Measured(Playing playing, double begins, double ends, double then, Func<int, int, int, PathStep[]> second, int[] written)
    {
        Passage passage = Playing.Quarters(written);
        MeasuredNote? measured = null;
        playing.HeardAs(passage, closed: (sound, account) =>
        {
            int Frame(double seconds) => (int)sound.FrameOfSeconds(seconds);
            PathStep[] steps = [.. account.Attempts[0].Steps.Where(step => step.Index == 0), .. second(Frame(begins), Frame(then), Frame(ends))];
            AttemptPath path = AttemptPath.Split(steps, 2)[0];
            measured = NoteMeasurer.Measure(sound, path, 1, TaskTargets.Of(new JudgingTask(passage, null, new Tolerances()))[1], ImmutableArray.CreateBuilder<ExtraNote>());
        });
        return measured!.Value;
    }
}
