using EarCoach.Core.Judging;
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
        AddFaint(playing, 6.5, _others, db: -24);
        playing.Quarters(13, _pitches);
        Playing.Words(playing.HeardAs(_passage)).Should().Equal("clean", "clean");
    }

    [Fact]
    public void MusicThroughTheWallUntilTheFirstNote_DoesNotBelongToIt()
    {
        Playing playing = new Playing(18).Quarters(1, _pitches).Quarters(10, _pitches);
        AddFaint(playing, 10 - (2 * Quarter), [71, 69], db: -24);
        Playing.Words(playing.HeardAs(_passage)).Should().Equal("clean", "clean");
    }

    [Fact]
    public void TheSameNotesMuchSofter_Count()
    {
        Playing playing = new Playing(18).Quarters(1, _pitches);
        AddFaint(playing, 9, _pitches, db: -24);
        Playing.Words(playing.HeardAs(_passage)).Should().Equal("clean", "clean");
    }

    // The first step of a chain is one note.
    [Fact]
    public void OneNoteMuchSofter_Counts()
    {
        Playing playing = new Playing(9).Note(60, 1, 1);
        AddFaint(playing, 5, [60], db: -20);
        Playing.Words(playing.HeardAs(Playing.Quarters(60), new Tolerances { Timing = TimingMode.Off })).Should().Equal("clean", "clean");
    }

    [Fact]
    public void AWrongNoteInASofterAttempt_IsAMiss()
    {
        Playing playing = new Playing(18).Quarters(1, _pitches);
        AddFaint(playing, 9, [60, 64, 69, 65, 62], db: -14);
        Playing.Words(playing.HeardAs(_passage)).Should().Equal("clean", "missed");
    }

    [Fact]
    public void AFirstNoteThatCracksAtItsOwnLoudness_IsAMiss()
    {
        Playing playing = new Playing(9).Note(57, 1, 0.1).Note(60, 1.1, Quarter - 0.18);
        for (int i = 1; i < _pitches.Length; i++)
        {
            playing.Note(_pitches[i], 1 + (i * Quarter), Quarter - 0.08);
        }

        playing.HeardAs(_passage).Should().ContainSingle().Which.Notes[0].Faults.Should().Contain(NoteFault.Cracked);
    }

    // A player who turns the microphone down by much, or moves away from it, is heard as before once some time has gone by.
    [Fact]
    public void AfterALongWhile_AWrongAttemptIsHeardHoweverSoft()
    {
        Playing playing = new Playing(150).Quarters(1, _pitches);
        AddFaint(playing, 140, [60, 66, 68, 63, 62], db: -22);
        Playing.Words(playing.HeardAs(_passage)).Should().Equal("clean", "missed");
    }

    private static void AddFaint(Playing playing, double atSeconds, int[] pitches, double db)
    {
        for (int i = 0; i < pitches.Length; i++)
        {
            playing.Note(pitches[i], atSeconds + (i * Quarter), Quarter - 0.08, 0.1 * Math.Pow(10, db / 20));
        }
    }
}
