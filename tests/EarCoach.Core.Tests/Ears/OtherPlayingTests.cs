using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>Between attempts a player tries a few notes for themselves, or plays something else (common practice): neither is an attempt at the task.</summary>
public sealed class OtherPlayingTests
{
    private const double Quarter = Playing.QuarterSeconds;
    private static readonly int[] _pitches = [60, 64, 67, 65, 62, 69, 67, 64];
    private static readonly Passage _passage = Playing.Quarters(_pitches);

    [Theory]
    [InlineData(new[] { 54, 56, 58, 59, 61 }, "something-else")]                 // up a scale of another key
    [InlineData(new[] { 74, 73, 71, 70, 73, 61, 58, 66, 59 }, "something-else")] // another tune
    [InlineData(new[] { 62, 69, 67 }, "from-within")]                            // three notes of the task, tried for themselves
    [InlineData(new[] { 65, 62, 69, 67, 64 }, "from-within")]                    // all of it from the fourth note on
    [InlineData(new[] { 67, 65 }, "from-within")]                                // two notes, each far from what the task begins with
    public void WhatElseIsPlayedBetweenAttempts_IsNotCounted(int[] played, string reason)
    {
        double other = 1 + (_pitches.Length * Quarter) + 2;
        double again = other + (played.Length * Quarter) + 2;
        Playing playing = new Playing(again + 8).Quarters(1, _pitches).Quarters(other, played).Quarters(again, _pitches);
        string[] heard = [.. Playing.Words(playing.HeardAs(_passage))];
        heard.Should().HaveCountGreaterThan(2).And.StartWith("clean").And.EndWith("clean");
        heard[1..^1].Should().OnlyContain(words => words == $"not-counted {reason}"); // in one piece or several
    }

    [Theory]
    [InlineData(72, 76, 79, 77, 74, 81, 79, 76)] // an octave too high: a misread clef
    [InlineData(65, 69, 72, 70, 67, 74, 72, 69)] // a fourth too high: the wrong crook or transposition
    [InlineData(62, 64, 65, 65, 63, 69, 68, 64)] // half of the notes wrong
    [InlineData(62, 66, 69, 63, 60, 67, 65, 62)] // each note wrong, none by more than a tone
    [InlineData(63, 67, 70)]                     // begun on wrong notes, and broken off
    [InlineData(64, 67, 65, 62, 69, 67, 64)]     // the first note did not sound
    [InlineData(60, 69, 67, 64)]                 // four notes left out
    public void ManyFaults_AreStillAMiss(params int[] played) =>
        new Playing(8).Quarters(1, played).HeardAs(_passage).Should().NotBeEmpty().And.OnlyContain(attempt => attempt.Verdict == Verdict.Missed);

    // Two short notes that speak late, as bowed ones do: their pitch is heard for 0.045 s. What is played is the task, from its beginning.
    [Fact]
    public void ShortNotesThatSpeakLate_AreTheBeginning()
    {
        const double Heard = 0.045;
        Fraction eighth = new(1, 6); // 0.11 s
        Passage passage = Playing.Written(_pitches, [0, eighth, 2 * eighth, .. Enumerable.Range(1, 6).Select(i => (2 * eighth) + i)]);
        Playing playing = new Playing(7).Quarters(1 + Playing.SecondsOf(2 * eighth), [.. _pitches[2..^1], 63]); // the last is wrong, which makes it a miss
        for (int i = 0; i < 2; i++)
        {
            double begins = 1 + Playing.SecondsOf(i * eighth);
            playing.Noise(0.02, begins, 0.055).Note(_pitches[i], begins + 0.055, Heard);
        }

        playing.HeardAs(passage).Should().ContainSingle().Which.Reason.Should().NotBe("from-within");
    }

    // In a task that repeats itself a part of it may be the whole with notes left out.
    [Fact]
    public void TwoNotesLeftOutOfAFigureThatComesTwice_AreAMiss()
    {
        Passage passage = Playing.Quarters(60, 64, 60, 64, 67, 65);
        Playing playing = new Playing(6).Quarters(1, 60, 64, 67, 65);
        playing.HeardAs(passage).Should().ContainSingle().Which.Verdict.Should().Be(Verdict.Missed);
    }

    // One note as a task, struck over and over.
    [Fact]
    public void OnePitchStruckManyTimes_IsNothingElse()
    {
        Playing playing = new Playing(6).Quarters(1, 60, 60, 60, 60, 60);
        playing.HeardAs(Playing.Quarters(60, 64)).Should().NotBeEmpty().And.OnlyContain(attempt => attempt.Verdict == Verdict.Missed);
    }
}
