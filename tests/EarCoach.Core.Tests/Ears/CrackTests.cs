using EarCoach.Core.Judging;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>Notes that begin on another pitch, and what only resembles that, on tones made by arithmetic.</summary>
public sealed class CrackTests
{
    private const double LeadSeconds = 1;
    private const int Cracked = 2;
    private static readonly int[] _pitches = [62, 66, 64, 69];

    // Our definition of a crack: a jump held for 30 to 150 ms, of which 40 are forgiven.
    [Theory]
    [InlineData(3, 0.06)]
    [InlineData(-3, 0.06)]
    [InlineData(4, 0.10)]
    [InlineData(-5, 0.12)]
    public void ANoteBegunOnAnotherPitch_IsCracked(double semitones, double seconds)
    {
        ShouldBeCracked(Judged(Played(at => at < seconds ? semitones : 0)), seconds, onsetWithin: 0.015);
    }

    // Struck anew on the pitch of the note before, which then goes to its own: no echo is so loud again.
    [Theory]
    [InlineData(0.07, 0.03)]
    [InlineData(0.09, 0.03)]
    [InlineData(0.10, 0.07)] // its hole is shallow, but its own pitch is late
    public void ANoteStruckOnThePitchBefore_IsCracked(double seconds, double ring)
    {
        Playing playing = Played(at => at < seconds ? _pitches[Cracked - 1] - _pitches[Cracked] : 0);
        playing.Note(_pitches[Cracked - 1], LeadSeconds + (Cracked * Playing.QuarterSeconds) - 0.1, 0.2, ring); // the room rings through the hole
        ShouldBeCracked(Judged(playing), seconds, onsetWithin: 0.02);
    }

    // Struck on the pitch before after a silence, at a quarter of its level: an echo is as faint, but none begins out of silence.
    [Fact]
    public void ANoteStruckFaintlyOnThePitchBefore_OutOfSilence_IsCracked()
    {
        const double Seconds = 0.06;
        Playing playing = Played(_ => 0, startsLate: Seconds);
        double begins = LeadSeconds + (Cracked * Playing.QuarterSeconds);
        ShouldBeCracked(Judged(playing.Note(_pitches[Cracked - 1], begins, Seconds + 0.03, 0.025)), Seconds, onsetWithin: 0.02);
    }

    // The note before held on and slurred a little late, within the limit, was not struck.
    [Fact]
    public void ANoteSlurredALittleLate_IsNotCracked()
    {
        Playing playing = Played(_ => 0, startsLate: 0.05);
        playing.Note(_pitches[Cracked - 1], LeadSeconds + ((Cracked - 1) * Playing.QuarterSeconds), Playing.QuarterSeconds + 0.05);
        Judged(playing).Verdict.Should().Be(Verdict.Clean);
    }

    // A reed whose tone begins with a partial between its second and its third, in noise: a period can be found that meets it and some of the others.
    [Theory]
    [InlineData(2.46, 0.03)]
    [InlineData(2.46, 0.035)]
    [InlineData(2.46, 0.04)]
    [InlineData(2.46, 0.045)]
    [InlineData(2.46, 0.05)]
    public void APartialThatIsNoHarmonic_IsNoCrack(double times, double amplitude)
    {
        int[] pitches = [50, 49, 56, 54];
        double[] reed = [0.014, 0.1, 0.01, 0.03, 0.01, 0.015];
        var playing = new Playing(5);
        for (int i = 0; i < pitches.Length; i++)
        {
            playing.Note(pitches[i], LeadSeconds + (i * Playing.QuarterSeconds), Playing.QuarterSeconds - 0.06, reed);
        }

        double partial = pitches[Cracked] + (12 * Math.Log2(times));
        playing.Note(partial, LeadSeconds + (Cracked * Playing.QuarterSeconds), 0.13, [amplitude]).Noise(0.012, 0, 5).InHall(0.4);
        List<AttemptResult> heard = playing.HeardAs(Playing.Quarters(pitches));
        heard.Should().ContainSingle().Which.Verdict.Should().Be(Verdict.Clean, Playing.Describe(heard));
    }

    // Under 30 ms it is an ordinary attack; a glide into the note is a scoop.
    [Fact]
    public void AShortChirp_IsNoCrack() => Judged(Played(at => at < 0.025 ? 3 : 0)).Verdict.Should().Be(Verdict.Clean);

    [Theory]
    [InlineData(-1.5)]
    [InlineData(1)]
    public void AGlideIntoTheNote_IsNoCrack(double semitones) =>
        Judged(Played(at => semitones * Math.Max(0, 1 - (at / 0.08)))).Verdict.Should().Be(Verdict.Clean);

    // A slide from a semitone below is none (AGlideIntoTheNote); held for 0.12 s it is another pitch.
    [Fact]
    public void ASemitoneBelow_HeldLong_IsACrack() =>
        Judged(Played(at => at < 0.12 ? -1.1 : 0, isBright: true)).Notes[Cracked].Faults.Should().Equal(NoteFault.Cracked);

    // The sound before, ringing on at a fifth of its level, is not the beginning of the note.
    [Theory]
    [InlineData(0)]
    [InlineData(0.09)]
    public void TheRingOfTheNoteBefore_HidesNoCrackAndIsNone(double seconds)
    {
        Playing playing = Played(at => at < seconds ? 3 : 0);
        for (int i = 0; i < _pitches.Length; i++)
        {
            playing.Note(_pitches[i], LeadSeconds + ((i + 1) * Playing.QuarterSeconds) - 0.08, 0.3, 0.02);
        }

        Judged(playing).Notes[Cracked].Faults.Should().Equal(seconds > 0 ? [NoteFault.Cracked] : []);
    }

    private static AttemptResult Judged(Playing playing) => playing.HeardAs(Playing.Quarters(_pitches)).Should().ContainSingle().Subject;

    private static void ShouldBeCracked(AttemptResult attempt, double seconds, double onsetWithin)
    {
        attempt.Notes[Cracked].Faults.Should().Equal(NoteFault.Cracked);
        attempt.Notes[Cracked].CrackMs.Should().BeApproximately(1000 * seconds, 15);
        attempt.Notes[Cracked].OnsetSeconds.Should().BeApproximately(LeadSeconds + (Cracked * Playing.QuarterSeconds), onsetWithin);
        attempt.Notes.Where(n => n.Index != Cracked).Should().OnlyContain(n => n.Faults.Length == 0);
    }

    /// <summary>The four notes, one of which is off by so many semitones at each moment after its onset, and may have twelve strong harmonics.</summary>
    private static Playing Played(Func<double, double> off, double startsLate = 0, bool isBright = false)
    {
        var playing = new Playing(LeadSeconds + (5 * Playing.QuarterSeconds));
        for (int i = 0; i < _pitches.Length; i++)
        {
            if (i != Cracked)
            {
                playing.Note(_pitches[i], LeadSeconds + (i * Playing.QuarterSeconds), Playing.QuarterSeconds - 0.08);
                continue;
            }

            int pitch = _pitches[i];
            playing.Moving(
                within => pitch + off(within), LeadSeconds + startsLate + (i * Playing.QuarterSeconds), Playing.QuarterSeconds - 0.08 - startsLate, isBright);
        }

        return playing;
    }
}
