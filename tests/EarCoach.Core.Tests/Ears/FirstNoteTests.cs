using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>What is said until the first note is no part of it. Common practice sets what a player expects.</summary>
public sealed class FirstNoteTests
{
    // The first note, due at 1 s, was said to begin 0.4 s before it, where a voice spoke until 0.05 s before; or it was begun then, and held; or
    // it began a little early. Frames of 5 ms.
    [Theory]
    [InlineData(0.6, 1.0, 0.95, 1.0)]
    [InlineData(0.6, 0.6, 0.60, null)]
    [InlineData(0.85, 0.85, 0.85, null)]
    public void AVoiceUntilTheFirstNote_DoesNotBelongToIt(double said, double sounds, double voiceEnds, double? begins)
    {
        HeardFrame Frame(int t)
        {
            double at = t / 200.0;
            var frame = new HeardFrame { CentreSample = t * 240L, FloorDbfs = -70, LevelDbfs = at >= sounds ? -24 : at < voiceEnds ? -34 : -70 };
            frame.Candidates[0] = new PitchCandidate(at >= sounds ? 60 : 56 + (t % 40 / 5f), 0.95f, 0);
            frame.CandidateCount = frame.LevelDbfs > -70 ? 1 : 0;
            return frame;
        }

        RegionSound sound = MadeFrames.Region(300, Frame);
        double? found = FirstNote.AfterOther(sound, said, due: 1, limit: 0.07, pitch: 60);
        found.HasValue.Should().Be(begins.HasValue);
        (found ?? 0).Should().BeApproximately(begins ?? 0, 0.006);
    }
}
