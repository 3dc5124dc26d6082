using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>Somebody else who plays is no attempt; the player may play as softly as he likes. Common practice sets what a player expects.</summary>
public sealed class OtherSoundTests
{
    private const double Quarter = Playing.QuarterSeconds;
    private static readonly int[] _pitches = [60, 64, 67, 65, 62];
    private static readonly int[] _others = [71, 69, 64, 66, 61];
    private static readonly Passage _passage = Playing.Quarters(_pitches);

    [Fact]
    public void MusicThroughTheWall_IsNoAttempt()
    {
        Playing playing = new Playing(24).Quarters(1, _pitches);
        playing.FaintQuarters(6.5, db: -24, _others);
        playing.Quarters(13, _pitches);
        Playing.Words(playing.HeardAs(_passage)).Should().Equal("clean", "clean");
    }

    [Fact]
    public void MusicThroughTheWallUntilTheFirstNote_DoesNotBelongToIt()
    {
        Playing playing = new Playing(18).Quarters(1, _pitches).Quarters(10, _pitches);
        playing.FaintQuarters(10 - (2 * Quarter), db: -24, [71, 69]);
        Playing.Words(playing.HeardAs(_passage)).Should().Equal("clean", "clean");
    }

    [Fact]
    public void TheSameNotesMuchSofter_Count()
    {
        Playing playing = new Playing(18).Quarters(1, _pitches);
        playing.FaintQuarters(9, db: -24, _pitches);
        Playing.Words(playing.HeardAs(_passage)).Should().Equal("clean", "clean");
    }

    // The first step of a chain is one note.
    [Fact]
    public void OneNoteMuchSofter_Counts()
    {
        Playing playing = new Playing(9).Note(60, 1, 1);
        playing.FaintQuarters(5, db: -20, [60]);
        Playing.Words(playing.HeardAs(Playing.Quarters(60), new Tolerances { Timing = TimingMode.Off })).Should().Equal("clean", "clean");
    }

    [Fact]
    public void AWrongNoteInASofterAttempt_IsAMiss()
    {
        Playing playing = new Playing(18).Quarters(1, _pitches);
        playing.FaintQuarters(9, db: -14, [60, 64, 69, 65, 62]);
        Playing.Words(playing.HeardAs(_passage)).Should().Equal("clean", "missed");
    }

    [Fact]
    public void AFirstNoteThatCracksAtItsOwnLoudness_IsAMiss()
    {
        Playing playing = new Playing(9).Note(57, 1, 0.1).Note(60, 1.1, Quarter - 0.18).Quarters(1 + Quarter, _pitches[1..]);
        playing.HeardAs(_passage).Should().ContainSingle().Which.Notes[0].Faults.Should().Contain(NoteFault.Cracked);
    }

    // A player who turns the microphone down by much, or moves away from it, is heard as before once some time has gone by.
    [Fact]
    public void AfterALongWhile_AWrongAttemptIsHeardHoweverSoft()
    {
        Playing playing = new Playing(150).Quarters(1, _pitches);
        playing.FaintQuarters(140, db: -22, [60, 66, 68, 63, 62]);
        Playing.Words(playing.HeardAs(_passage)).Should().Equal("clean", "missed");
    }

    // Frames of 5 ms: two short notes in noise, whose lower octave seems likelier now and then, as loud as the attempts before; or a voice that
    // glides a semitone in 0.025 s and passes through them.
    [Theory]
    [InlineData(12, 0, true)]
    [InlineData(0, 0.2, false)]
    public void TwoShortNotesInNoise_ArePlaying_AVoiceIsNot(float octave, float glide, bool isPlaying)
    {
        HeardFrame Frame(int t)
        {
            var frame = new HeardFrame { CentreSample = t * 240L, FloorDbfs = -56, LevelDbfs = t % 60 < 50 ? -40 : -56 };
            frame.Candidates[0] = new PitchCandidate(50 - (t / 7 % 2 * octave) + (((t % 20) - 10) * glide), 0.9f, 0);
            frame.CandidateCount = t % 60 < 50 ? 1 : 0;
            return frame;
        }

        RegionSound sound = MadeFrames.Region(120, Frame);
        PathStep[] steps = [new(Activity.Note, 0, 0, 5, 50), new(Activity.Rest, 1, 0, 50, 60), new(Activity.Note, 1, 0, 60, 110)];
        TargetNote[] targets = TaskTargets.Of(new JudgingTask(Playing.Quarters(50, 50, 52, 53), null, new Tolerances()));
        OtherSound.LeaveOut(sound, AttemptPath.Split(steps, targets.Length), targets, usualDbfs: -35).Should().HaveCount(isPlaying ? 1 : 0);
    }
}
