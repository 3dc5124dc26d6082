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

    // E4 (64) is held where E flat (63) is written: for 0.04 s, on the way, the sound passes the right pitch. Or it is held, and E4 is passed.
    [Theory]
    [InlineData(0.04, 64)]
    [InlineData(0.40, 63)]
    public void APitchThatIsPassed_IsNotTheNote(double rightSeconds, int heard)
    {
        Passage passage = Playing.Quarters(62, 63);
        double begins = At + Playing.QuarterSeconds;
        Playing playing = new Playing(4).Note(62, At, Playing.QuarterSeconds).Note(63, begins, rightSeconds).Note(64, begins + rightSeconds, 0.5 - rightSeconds);
        MeasuredNote? measured = null;
        playing.HeardAs(passage, closed: (sound, account) =>
        {
            int first = (int)sound.FrameOfSeconds(begins);
            int passed = (int)sound.FrameOfSeconds(begins + rightSeconds);
            int end = (int)sound.FrameOfSeconds(begins + 0.5);
            PathStep[] steps =
            [
                .. account.Attempts[0].Steps.Where(step => step.Index == 0),
                new(Activity.Note, 1, 0, first, passed),
                new(Activity.Other, 1, 64, passed, end),
            ];
            AttemptPath path = AttemptPath.Split(steps, 2)[0];
            measured = NoteMeasurer.Measure(sound, path, 1, TaskTargets.Of(new JudgingTask(passage, null, new Tolerances()))[1], ImmutableArray.CreateBuilder<ExtraNote>());
        });
        measured!.Value.HeardMidi.Should().BeApproximately(heard, 0.1);
    }
}
