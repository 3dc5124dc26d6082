using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>What cannot be judged honestly is not counted, and no real fault hides behind that. Common practice sets what a player expects.</summary>
public sealed class NotCountedTests
{
    private const double Quarter = Playing.QuarterSeconds;
    private static readonly int[] _pitches = [60, 64, 67, 65, 62];
    private static readonly Passage _passage = Playing.Quarters(_pitches);

    [Theory]
    [InlineData(2.0, 0.05)] // within a note
    [InlineData(1.2, 0.30)] // within the first
    [InlineData(4.4, 0.0)]  // just after the last: the source says that something is lost, but not how much
    public void SoundLostWithinAnAttempt_IsNoVerdict(double at, double seconds)
    {
        List<AttemptResult> heard = new Playing(7).Quarters(1, _pitches).HeardAs(_passage, lost: (at, seconds));
        Playing.Words(heard).Should().Equal("not-counted gap");
    }

    [Fact]
    public void SoundLostElsewhere_ChangesNothing()
    {
        Playing playing = new Playing(12).Quarters(1, _pitches).Quarters(7, _pitches);
        Playing.Words(playing.HeardAs(_passage, lost: (5.5, 0.3))).Should().Equal("clean", "clean");
    }

    [Fact]
    public void AHoleOfTenMilliseconds_IsNoLoss()
    {
        Playing playing = new Playing(7).Quarters(1, _pitches);
        Array.Clear(playing.Sound, (int)(2.0 * Playing.RateHz), Playing.RateHz / 100);
        Playing.Words(playing.HeardAs(_passage)).Should().Equal("clean");
    }

    // Noise between plus and minus the amplitude, all the time; the notes have 0.086 (root mean square).
    [Theory]
    [InlineData(0.01, 67, "clean")]
    [InlineData(0.01, 68, "missed")]
    [InlineData(0.04, 68, "missed")]  // a fan that can be heard hides nothing
    [InlineData(0.1, 68, "not-counted room-noise")]
    public void InTheNoiseOfTheRoom_AFaultIsToldWhereItCanBeHeard(double noise, int third, string expected)
    {
        Playing playing = new Playing(8).Noise(noise, 0, 8).Quarters(1.5, 60, 64, third, 65, 62);
        Playing.Words(playing.HeardAs(_passage)).Should().Equal(expected);
    }

    [Theory]
    [InlineData(new[] { 60, 64 }, 0.5)] // two right notes
    [InlineData(new[] { 60, 65 }, 0.5)] // the second wrong
    [InlineData(new[] { 62 }, 0.5)]     // one wrong note
    [InlineData(new[] { 60 }, 0.5)]     // one right note
    [InlineData(new[] { 60 }, 0.9)]
    [InlineData(new[] { 60, 64 }, 0.9)]
    public void OneOrTwoNotesAtOnceBegunAgain_AreAFalseStart(int[] first, double pauseSeconds)
    {
        double again = 1 + (first.Length * Quarter) - 0.08 + pauseSeconds;
        List<AttemptResult> heard = new Playing(again + 6).Quarters(1, first).Quarters(again, _pitches).HeardAs(_passage);
        Playing.Words(heard).Should().Equal("not-counted false-start", "clean");
    }

    [Theory]
    [InlineData(3, 0.5)] // three notes: stopped
    [InlineData(2, 1.3)] // not at once: stopped
    [InlineData(1, 1.6)]
    public void MoreNotesOrALongerPause_AreAMiss(int notes, double pauseSeconds)
    {
        double again = 1 + (notes * Quarter) - 0.08 + pauseSeconds;
        List<AttemptResult> heard = new Playing(again + 6).Quarters(1, _pitches[..notes]).Quarters(again, _pitches).HeardAs(_passage);
        Playing.Words(heard).Should().Equal("missed stopped", "clean");
    }

    [Fact]
    public void TwoNotesAndNoMore_AreAMiss() =>
        Playing.Words(new Playing(6).Quarters(1, _pitches[..2]).HeardAs(_passage)).Should().Equal("missed stopped");

    // Two notes of one pitch run into one, the long note after them is left out, and the attempt goes on after more than a second.
    [Fact]
    public void ALongMissingNoteAfterARepeatedOne_DoesNotEndTheAttempt()
    {
        int[] pitches = [60, 64, 67, 67, 65, 62, 64];
        Passage passage = Playing.Quarters(pitches);
        passage = passage with { Notes = [.. passage.Notes.Select((n, i) => n with { Onset = i < 5 ? n.Onset : n.Onset + 1, Length = i == 4 ? 2 : 1 })] };
        Playing playing = new Playing(9).Quarters(1, [60, 64]).Note(67, 1 + (2 * Quarter), (2 * Quarter) - 0.08).Quarters(1 + (6 * Quarter), [62, 64]);
        List<AttemptResult> heard = playing.HeardAs(passage);
        heard.Should().ContainSingle().Which.Notes[4].Faults.Should().Equal(NoteFault.Missing);
    }

    // The last note of a passage breaks off and comes back for a moment, or is held back until the ear has closed the attempt.
    [Theory]
    [InlineData(0.30)]
    [InlineData(0.60)]
    public void WhatIsLeftOfTheLastNote_IsNoAttemptOfItsOwn(double pauseSeconds)
    {
        int last = _pitches[^1];
        double ends = 1 + (_pitches.Length * Quarter) - 0.08;
        List<AttemptResult> heard = new Playing(ends + 4).Quarters(1, _pitches).Note(last, ends + pauseSeconds, 0.2).HeardAs(_passage);
        heard.Should().ContainSingle();
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void AWholeShortTask_IsNeverAFalseStart(int notes)
    {
        Passage task = Playing.Quarters(_pitches[..notes]);
        int[] wrong = [.. _pitches[..notes]];
        wrong[^1] += 2;
        double again = 1 + (notes * Quarter) - 0.08 + 0.7;
        List<AttemptResult> heard = new Playing(again + 4).Quarters(1, wrong).Quarters(again, _pitches[..notes]).HeardAs(task);
        heard.Select(a => a.Verdict).Should().Equal(Verdict.Missed, Verdict.Clean);
    }

    [Fact]
    public void AFirstNoteStruckTwice_IsAFaultAndNoFalseStart()
    {
        // Struck again after 0.12 s of silence, the second stroke as long as is left of the note: the next note keeps time with the first stroke.
        Playing playing = new Playing(7).Note(60, 1, 0.2).Note(60, 1.32, 0.27).Quarters(1 + Quarter, _pitches[1..]);
        List<AttemptResult> heard = playing.HeardAs(_passage);
        heard.Should().ContainSingle().Which.Verdict.Should().Be(Verdict.Missed);
    }

    [Theory]
    [InlineData(TimingMode.Fitted)]
    [InlineData(TimingMode.Off)]
    public void ANoteUnderALoudCough_IsNotCounted(TimingMode timing)
    {
        Playing playing = Without(2).Noise(0.5, 1 + (2 * Quarter) - 0.03, Quarter - 0.03);
        Playing.Words(playing.HeardAs(_passage, new Tolerances { Timing = timing })).Should().Equal("not-counted noise");
    }

    [Fact]
    public void ACoughBeyondFullScale_IsCalledClipping()
    {
        Playing playing = Without(2, amplitude: 0.35).Noise(6, 1 + (2 * Quarter) - 0.03, Quarter - 0.03).Clipped();
        Playing.Words(playing.HeardAs(_passage)).Should().Equal("not-counted clipping");
    }

    [Fact]
    public void AMissingNote_IsMissedWhereTheNoiseIsSoft() => // 20 dB below the notes: the note would have been heard
        Playing.Words(Without(2).Noise(0.015, 1 + (2 * Quarter) - 0.03, Quarter - 0.03).HeardAs(_passage)).Should().Equal("missed");

    [Fact]
    public void AMissingNote_IsMissedWhereTheCoughIsElsewhere() =>
        Playing.Words(Without(2).Noise(0.5, 4.7, 0.3).HeardAs(_passage)).Should().Equal("missed");

    [Fact]
    public void AFaultBesideTheCough_IsNeverHidden()
    {
        Playing playing = new Playing(7).Quarters(1, 60, 64).Note(66, 1 + (3 * Quarter), Quarter - 0.08).Note(62, 1 + (4 * Quarter), Quarter - 0.08)
            .Noise(0.5, 1 + (2 * Quarter) - 0.03, Quarter - 0.03);
        AttemptResult attempt = playing.HeardAs(_passage).Should().ContainSingle().Subject;
        attempt.Verdict.Should().Be(Verdict.Missed);
        attempt.Notes[3].Faults.Should().Contain(NoteFault.WrongPitch);
    }

    [Fact]
    public void ANoteHeardThroughTheNoise_CountsAsClean() => // the noise 12 dB below the tone
        Playing.Words(new Playing(7).Quarters(1, _pitches).Noise(0.03, 1 + (2 * Quarter), Quarter).HeardAs(_passage)).Should().Equal("clean");

    private static Playing Without(int index, double amplitude = 0.1)
    {
        var playing = new Playing(7);
        for (int i = 0; i < _pitches.Length; i++)
        {
            if (i != index)
            {
                playing.Note(_pitches[i], 1 + (i * Quarter), Quarter - 0.08, amplitude);
            }
        }

        return playing;
    }
}
