using CsCheck;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>Rhythm by class, held against its definition: long at least 1.5 times short; equal notes within a fifth of one another's median.</summary>
/// <remarks>Source of the definition: durations of rhythm variants are "not set in stone" (bretpimentel.com): common practice. All at 60 quarter
/// notes a minute unless said otherwise, so that lengths in quarter notes are seconds.</remarks>
public sealed class RhythmClassesTests
{
    private static readonly Tolerances _limits = new() { Timing = TimingMode.Rhythm, OnsetMs = 60 };
    private static readonly Fraction _long = new(3, 2);
    private static readonly Fraction _short = new(1, 2);

    // 3 : 1 is written. 2 : 1 is a swing, 1.5 : 1 the least that is clearly longer; 4 : 1 is sharper than written.
    [Theory]
    [InlineData(1.5)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void LongShort_WithAnyClearlyLongerNote_IsNoFault(double ratio) => FaultsOf(LongShort(4), Pairs(4, ratio)).Should().BeEmpty();

    [Theory]
    [InlineData(1)]
    [InlineData(1.3)]
    [InlineData(0.5)]
    public void LongShort_PlayedEvenlyOrTheOtherWay_MakesTheShortNotesEarly(double ratio) =>
        FaultsOf(LongShort(4), Pairs(4, ratio)).Should().Equal((1, NoteFault.Early), (3, NoteFault.Early), (5, NoteFault.Early), (7, NoteFault.Early));

    [Fact]
    public void ShortLong_PlayedEvenly_MakesTheLongNotesLate() =>
        FaultsOf([_short, _long, _short, _long], [1, 1, 1, 1]).Should().Equal((1, NoteFault.Late), (3, NoteFault.Late));

    // Every variant of patterns, its long notes only just more than 1.5 times its short ones, each group as long as written.
    [Theory]
    [InlineData("2a")]
    [InlineData("2b")]
    [InlineData("2c")]
    [InlineData("2d")]
    [InlineData("3a")]
    [InlineData("3b")]
    [InlineData("3c")]
    [InlineData("4a")]
    [InlineData("4b")]
    [InlineData("4c")]
    [InlineData("4d")]
    [InlineData("4e")]
    [InlineData("4f")]
    public void AVariant_PlayedAtOneAndAHalf_IsNoFault_Evenly_IsOne(string code)
    {
        Fraction[] group = [.. RhythmVariants.ByCode(code)!.EqualTotal];
        double[] played = [.. group.Select(length => length == group.Max() ? 1.55 : 1)];
        double scale = group.Length / played.Sum();
        Fraction[] written = [.. group, .. group, .. group];
        FaultsOf(written, [.. Enumerable.Range(0, 3).SelectMany(_ => played.Select(length => length * scale))]).Should().BeEmpty();
        FaultsOf(written, [.. written.Select(_ => 1.0)]).Should().NotBeEmpty();
    }

    // Where less than twice is written, halfway from equal to written is asked: 1.25 for a dotted quarter note and a quarter note.
    [Theory]
    [InlineData(1.27, 0)]
    [InlineData(1.15, 3)]
    public void ALittleLonger_AsksForHalfway(double ratio, int faults)
    {
        Fraction[] written = [_long, 1, _long, 1, _long, 1];
        double shorter = 2.5 / (1 + ratio);
        FaultsOf(written, [.. Enumerable.Range(0, 6).Select(i => i % 2 == 0 ? ratio * shorter : shorter)]).Should().HaveCount(faults);
    }

    // Two groups of long-short, eighth notes and then sixteenth notes, as the even runs of a passage make them: 0.75 0.25 0.375 0.125. As a swing
    // the short eighth note and the long sixteenth note are equal, each in its right place.
    [Theory]
    [InlineData(3)]
    [InlineData(2)]
    [InlineData(1.5)]
    public void GroupsOfTwoSpeeds_AsASwing_AreNoFault(double ratio)
    {
        Fraction[] written = [new(3, 4), new(1, 4), new(3, 8), new(1, 8), new(3, 8), new(1, 8), new(3, 4), new(1, 4), 1];
        double longer = ratio / (1 + ratio);
        double[] played = [longer, 1 - longer, longer / 2, (1 - longer) / 2, longer / 2, (1 - longer) / 2, longer, 1 - longer, 1];
        FaultsOf(written, played).Should().BeEmpty();
        FaultsOf(written, [0.5, 0.5, 0.25, 0.25, 0.25, 0.25, 0.5, 0.5, 1]).Should().Equal(
            (1, NoteFault.Early), (3, NoteFault.Early), (5, NoteFault.Early), (7, NoteFault.Early));
    }

    [Theory]
    [InlineData(0.1, false)]
    [InlineData(0.19, false)]
    [InlineData(0.25, true)]
    [InlineData(0.333, true)] // a swing of 2 : 1
    public void EqualNotes_MayDifferByAFifthFromTheirMedian(double off, bool isFault) =>
        FaultsOf([1, 1, 1, 1, 1, 1], [1 + off, 1 - off, 1 + off, 1 - off, 1 + off, 1 - off]).Any().Should().Be(isFault);

    // 60 ms are 30 % of 0.2 s: what the room for a start allows is never a fault.
    [Fact]
    public void EqualNotes_ThatAreQuick_MayDifferByTheRoomForAStart()
    {
        FaultsOf([1, 1, 1, 1], [1.25, 0.75, 1.25, 0.75], secondsPerQuarter: 0.2).Should().BeEmpty();
        FaultsOf([1, 1, 1, 1], [1.4, 0.6, 1.4, 0.6], secondsPerQuarter: 0.2).Should().NotBeEmpty();
    }

    [Fact]
    public void OneNote_OutOfPlace_IsTheOnlyFault()
    {
        double[] played = Pairs(4, 3);
        played[3] += 0.6; // the fifth note late, the sixth where it belongs
        played[4] -= 0.6;
        FaultsOf(LongShort(4), played).Should().Equal((4, NoteFault.Late));
    }

    [Fact]
    public void AHesitation_InTheOnlyLongNote_IsAFault() =>
        FaultsOf([1, 1, 4, 1, 1], [1, 1, 9, 1, 1]).Should().Equal((3, NoteFault.Late));

    [Fact]
    public void ASingleNote_HasNoLengthToJudge()
    {
        FaultsOf([], []).Should().BeEmpty();
        RhythmClasses.FaultsOf([], _limits).Should().BeEmpty();
    }

    // Played evenly: notes 1, 3, 5 and 7 are early. Without note 3 nothing is known of it, nor of the lengths that it begins or ends.
    [Fact]
    public void AMissingNote_SpreadsNoFault()
    {
        RhythmOnset[] evenly = Onsets(LongShort(4), Pairs(4, 1), 1);
        evenly[3] = evenly[3] with { HeardSeconds = null, MsOff = null };
        Sorted(RhythmClasses.FaultsOf(evenly, _limits)).Should().Equal((1, NoteFault.Early), (5, NoteFault.Early), (7, NoteFault.Early));

        RhythmOnset[] asWritten = Onsets(LongShort(4), Pairs(4, 3), 1);
        asWritten[3] = asWritten[3] with { HeardSeconds = null, MsOff = null };
        RhythmClasses.FaultsOf(asWritten, _limits).Should().BeEmpty();
    }

    [Fact]
    public void AnAddedNote_SpreadsNoFault()
    {
        double[] played = Pairs(4, 3);
        played[2] += 0.5;
        RhythmOnset[] onsets = Onsets(LongShort(4), played, 1);
        RhythmClasses.FaultsOf(onsets, _limits).Should().NotBeEmpty();
        onsets[2] = onsets[2] with { IsFollowedByExtra = true };
        RhythmClasses.FaultsOf(onsets, _limits).Should().BeEmpty();
    }

    [Fact]
    public void AFreeNote_IsJudgedNeitherBeforeNorAfter_UnlessTimeBeginsAnewWithIt()
    {
        double[] played = [1, 1, 1.9, 0.4, 1, 1];
        RhythmOnset[] onsets = Onsets([1, 1, 1, 1, 1, 1], played, 1);
        onsets[3] = onsets[3] with { MsOff = null };
        RhythmClasses.FaultsOf(onsets, _limits).Should().BeEmpty();

        // What the fermata was held beyond its length, 0.9 s, is taken out of all that follows.
        onsets = [.. onsets.Select(onset => onset.Index < 3 ? onset : onset with { MsOff = onset.Index == 3 ? null : onset.MsOff - 900, BeginsAnew = onset.Index == 3 })];
        Sorted(RhythmClasses.FaultsOf(onsets, _limits)).Should().Equal((4, NoteFault.Early));
    }

    [Fact]
    public void AnyRhythm_PlayedAsWritten_AtAnyTempo_IsNoFault() =>
        Gen.Select(Gen.Int[1, 8].Array[0, 20], Gen.Double[0.05, 3]).Sample((eighths, secondsPerQuarter) =>
        {
            Fraction[] written = [.. eighths.Select(count => new Fraction(count, 2))];
            return !FaultsOf(written, [.. written.Select(length => length.ToDouble())], secondsPerQuarter).Any();
        });

    // The rule of neighbours itself, at random: at least 1.5 times passes, clearly less does not.
    [Fact]
    public void LongShort_IsAFault_WhereTheLongNoteIsNotClearlyLonger() =>
        Gen.Select(Gen.Double[1.51, 5], Gen.Double[0.7, 1.35], Gen.Double[0.4, 2]).Sample((clear, unclear, secondsPerQuarter) =>
            !FaultsOf(LongShort(5), Pairs(5, clear), secondsPerQuarter).Any() && FaultsOf(LongShort(5), Pairs(5, unclear), secondsPerQuarter).Count() == 5);

    private static Fraction[] LongShort(int pairs) => [.. Enumerable.Range(0, pairs).SelectMany(_ => new[] { _long, _short })];

    /// <summary>Pairs of two quarter notes in all, divided in this ratio.</summary>
    private static double[] Pairs(int pairs, double ratio) => [.. Enumerable.Range(0, pairs).SelectMany(_ => new[] { 2 * ratio / (1 + ratio), 2 / (1 + ratio) })];

    private static IEnumerable<(int Index, NoteFault Fault)> FaultsOf(Fraction[] written, double[] played, double secondsPerQuarter = 1) =>
        Sorted(RhythmClasses.FaultsOf(Onsets(written, played, secondsPerQuarter), _limits));

    private static IEnumerable<(int Index, NoteFault Fault)> Sorted(Dictionary<int, NoteFault> faults) => faults.OrderBy(fault => fault.Key).Select(fault => (fault.Key, fault.Value));

    /// <summary>Notes of these lengths in quarter notes, and one more whose length is not known.</summary>
    private static RhythmOnset[] Onsets(Fraction[] written, double[] played, double secondsPerQuarter)
    {
        var onsets = new RhythmOnset[written.Length + 1];
        Fraction at = Fraction.Zero;
        double heard = 0;
        for (int i = 0; i < onsets.Length; i++)
        {
            double due = at.ToDouble() * secondsPerQuarter;
            onsets[i] = new RhythmOnset(i, at, due, heard, 1000 * (heard - due));
            if (i < written.Length)
            {
                at += written[i];
                heard += played[i] * secondsPerQuarter;
            }
        }

        return onsets;
    }
}
