using EarCoach.Core.Judging;
using EarCoach.Core.Tests.Listening;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>The program's own cue, heard back by the microphone: nobody's playing, and no hindrance to a player who goes on at once.</summary>
public sealed class CueTests
{
    private const double FirstEnds = 0.5 + (4 * Playing.QuarterSeconds) - 0.08;
    private const double CueAt = FirstEnds + 0.4; // the verdict, and with it the cue, comes about so long after the last note
    private const double CueHeardSeconds = 0.65;
    private static readonly int[] _pitches = [60, 64, 67, 65];
    private static readonly double[] _cue = [75, 78]; // away from the first note by a minor third and a tritone

    [Theory]
    [InlineData(0, 1)]
    [InlineData(0, 0.3)]
    [InlineData(0.6, 1)]
    public void ACue_IsNobodysPlaying(double reverberationSeconds, double loudness)
    {
        Playing playing = Cue(new Playing(8).Quarters(0.5, _pitches), loudness);
        Heard(reverberationSeconds > 0 ? playing.InHall(reverberationSeconds) : playing).Should().ContainSingle().Which.Verdict.Should().Be(Verdict.Clean);
    }

    [Theory]
    [InlineData(0.45)]
    [InlineData(0.55)]
    [InlineData(0.65)]
    [InlineData(0.8)]
    [InlineData(0.95)]
    [InlineData(1.05)]
    [InlineData(1.3)]
    public void WhoPlaysOnAtOnce_IsHeardFromTheFirstNoteOn(double pauseSeconds)
    {
        double second = FirstEnds + pauseSeconds;
        Playing playing = Cue(new Playing(9).Quarters(0.5, _pitches).Quarters(second, _pitches), loudness: 0.3);
        List<AttemptResult> attempts = Heard(playing);
        attempts.Select(attempt => attempt.Verdict).Should().Equal(Verdict.Clean, Verdict.Clean);
        attempts[1].Notes[0].OnsetSeconds.Should().BeApproximately(second, 0.05); // a tone of the cue just before it blurs the beginning
    }

    [Fact]
    public void TonesOfTheCue_AreThePlayers_OnceHePlays()
    {
        int[] pitches = [60, 63, 66, 63]; // all but the first are the cue's, an octave lower
        Playing playing = Cue(new Playing(9).Quarters(0.5, pitches).Quarters(FirstEnds + 0.45, pitches), loudness: 0.3);
        Heard(playing, pitches).Select(attempt => attempt.Verdict).Should().Equal(Verdict.Clean, Verdict.Clean);
    }

    private static Playing Cue(Playing playing, double loudness) =>
        playing.Note(_cue[0], CueAt + 0.05, 0.11, 0.1 * loudness).Note(_cue[1], CueAt + 0.19, 0.16, 0.1 * loudness);

    private static List<AttemptResult> Heard(Playing playing, int[]? pitches = null)
    {
        bool told = false;
        return playing.HeardAs(Playing.Quarters(pitches ?? _pitches), blockLength: 441, before: (ear, at) =>
        {
            if (!told && at >= CueAt * Playing.RateHz)
            {
                told = true;
                ear.ExpectCue([.. _cue.Select(tone => Tones.Hz(tone))], at + (long)(CueHeardSeconds * Playing.RateHz));
            }
        });
    }
}
