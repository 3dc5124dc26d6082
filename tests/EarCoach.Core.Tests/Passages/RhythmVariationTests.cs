using CsCheck;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Passages;

public sealed class RhythmVariationTests
{
    // Common practice: the patterns as wind, string and piano teachers write them; numbers are onsets in the note value of the even run,
    // by arithmetic from the pattern.
    [Theory]
    [InlineData("2a", VariantScaling.EqualTotal, "0 3/2 2 7/2")]
    [InlineData("2a", VariantScaling.ShortsAtTarget, "0 3 4 7")]
    [InlineData("2b", VariantScaling.EqualTotal, "0 1/2 2 5/2")]
    [InlineData("2c", VariantScaling.EqualTotal, "0 4/3 2 10/3")]
    [InlineData("2d", VariantScaling.ShortsAtTarget, "0 1 3 4")]
    [InlineData("3a", VariantScaling.EqualTotal, "0 3/2 9/4 3")]
    [InlineData("3b", VariantScaling.ShortsAtTarget, "0 1 3 4")]
    [InlineData("3c", VariantScaling.EqualTotal, "0 3/4 3/2 3")]
    [InlineData("4a", VariantScaling.EqualTotal, "0 2 8/3 10/3")]
    [InlineData("4d", VariantScaling.ShortsAtTarget, "0 1 2 3")]
    [InlineData("4e", VariantScaling.EqualTotal, "0 3/2 3 7/2")]
    [InlineData("4f", VariantScaling.ShortsAtTarget, "0 1 2 5")]
    [InlineData("G3", VariantScaling.ShortsAtTarget, "0 1 2 6")]
    [InlineData("PREP2", VariantScaling.ShortsAtTarget, "0 1 2 3")]
    [InlineData("PREP2", VariantScaling.EqualTotal, "0 1/2 1 3/2")]
    public void Apply_ToAnEvenRun_GivesThePattern(string code, VariantScaling scaling, string onsetsInSteps)
    {
        Passage varied = RhythmVariation.Apply(ExcerptTests.Quavers(12), RhythmVariants.ByCode(code)!, scaling);

        string.Join(' ', varied.Notes.Take(4).Select(note => note.Onset * 2)).Should().Be(onsetsInSteps);
    }

    [Fact]
    public void Apply_AnyVariant_KeepsPitchesAndOrderAndBreaksNoRule() =>
        Gen.Select(PassageGen.Marked, Gen.Int[0, RhythmVariants.All.Length - 1], Gen.Enum<VariantScaling>(), Gen.Enum<VariantScope>())
            .Sample((passage, which, scaling, scope) =>
            {
                RhythmVariant variant = RhythmVariants.All[which];
                Passage varied = RhythmVariation.Apply(passage, variant, scaling, scope);

                PassageRules.Problems(varied).Should().BeEmpty(variant.Code);
                Struck(varied).Should().Equal(Struck(passage), variant.Code);
                varied.Notes.Where(note => note.SlurredFromPrevious).Should().HaveCountLessThanOrEqualTo(passage.Notes.Count(note => note.SlurredFromPrevious));
                foreach ((PassageNote before, PassageNote after) in varied.Notes.Zip(varied.Notes.Skip(1)))
                {
                    (after.SlurredFromPrevious && before.End != after.Onset).Should().BeFalse(variant.Code);
                }
            });

    [Fact]
    public void Apply_EqualTotalToEvenRuns_KeepsLengthMetreAndTempo() =>
        Gen.Select(PassageGen.Marked, Gen.Int[0, RhythmVariants.All.Length - 1]).Sample((passage, which) =>
        {
            Passage varied = RhythmVariation.Apply(passage, RhythmVariants.All[which], VariantScaling.EqualTotal);

            varied.Meters.Should().Equal(passage.Meters);
            varied.Pickup.Should().Be(passage.Pickup);
            varied.Tempi.Select(mark => mark.QuartersPerMinute).Should().Equal(passage.Tempi.Select(mark => mark.QuartersPerMinute));
            varied.Notes[0].Onset.Should().Be(passage.Notes[0].Onset);
            if (!RhythmVariants.All[which].Stops)
            {
                varied.End.Should().Be(passage.End);
            }
        });

    [Fact]
    public void Apply_ShortsAtTarget_NeverAsksForFasterNotesThanThePassage() =>
        Gen.Select(PassageGen.Plain, Gen.Int[0, RhythmVariants.All.Length - 1]).Sample((passage, which) =>
        {
            Passage varied = RhythmVariation.Apply(passage, RhythmVariants.All[which], VariantScaling.ShortsAtTarget);

            Shortest(varied).Should().BeGreaterThanOrEqualTo(Shortest(passage));
        });

    [Theory]
    [InlineData("2a", 2, 4, 2)] // quavers, long-short at target: 3 + 1 quavers, so bars of one group
    [InlineData("2c", 6, 8, 2)] // 2 + 1 quavers: dotted crotchets
    [InlineData("4a", 3, 4, 2)] // 3 + 1 + 1 + 1 quavers
    [InlineData("4a", 6, 8, 4)] // 3 + 1 + 1 + 1 semiquavers: a dotted crotchet
    public void Apply_WhereThePassageGrows_BarsHoldWholeGroups(string code, int beats, int beatType, int notesAQuarter)
    {
        Passage even = ExcerptTests.Quavers(24);
        even = even with { Notes = [.. even.Notes.Select(n => n with { Onset = n.Onset * 2 / notesAQuarter, Length = new Fraction(1, notesAQuarter) })] };

        Passage varied = RhythmVariation.Apply(even, RhythmVariants.ByCode(code)!, VariantScaling.ShortsAtTarget);

        (varied.Meters[0].Beats, varied.Meters[0].BeatType).Should().Be((beats, beatType));
    }

    [Fact]
    public void Apply_UnevenNotesBetweenRuns_KeepTheirRhythm()
    {
        // Four semiquavers, a crotchet, a dotted quaver, a semiquaver.
        (int Onset, int Length)[] rhythm = [(0, 1), (1, 1), (2, 1), (3, 1), (4, 4), (8, 3), (11, 1)];
        Passage passage = ExcerptTests.Quavers(1) with
        {
            Notes = [.. rhythm.Select(note => new PassageNote { MidiPitch = 60, Onset = new Fraction(note.Onset, 4), Length = new Fraction(note.Length, 4) })],
        };

        Passage varied = RhythmVariation.Apply(passage, RhythmVariants.ByCode("2a")!, VariantScaling.EqualTotal);

        varied.Notes.Select(note => note.Onset * 8).Should().Equal(0, 3, 4, 7, 8, 16, 22);
        varied.Notes.Select(note => note.Length * 8).Should().Equal(3, 1, 3, 1, 8, 6, 2);
    }

    [Fact]
    public void Apply_BurstsAndAccents_MarkFermatasAndAccents()
    {
        Passage burst = RhythmVariation.Apply(ExcerptTests.Quavers(6), RhythmVariants.ByCode("G3")!, VariantScaling.ShortsAtTarget);
        burst.Notes.Select(note => note.Articulations == Articulations.Fermata).Should().Equal(false, false, true, false, false, true);
        burst.Notes.Select(note => note.TimingJudged).Should().Equal(true, true, true, false, true, true);

        Passage threes = RhythmVariation.Apply(ExcerptTests.Quavers(8), RhythmVariants.ByCode("T1")!, VariantScaling.EqualTotal);
        threes.Notes.Select(note => note.Articulations == Articulations.Accent).Should().Equal(false, true, false, false, true, false, false, true);

        Passage stops = RhythmVariation.Apply(ExcerptTests.Quavers(4), RhythmVariants.ByCode("STOP2")!, VariantScaling.ShortsAtTarget);
        stops.Notes.Select(note => (note.Onset * 2, note.Length * 2)).Should().Equal((0, 1), (1, 1), (4, 1), (5, 1));
    }

    [Fact]
    public void ThatFit_APassageWithoutEvenRuns_HasNoVariants()
    {
        Passage dotted = ExcerptTests.Quavers(2) with
        {
            Notes = [new() { MidiPitch = 60, Onset = 0, Length = new Fraction(3, 4) }, new() { MidiPitch = 62, Onset = new Fraction(3, 4), Length = new Fraction(1, 4) }],
        };

        RhythmVariation.ThatFit(dotted).Should().BeEmpty();
        RhythmVariation.ThatFit(ExcerptTests.Quavers(3)).Select(variant => variant.Code).Should().Contain(["2a", "3a", "G3"]).And.NotContain(["4a", "G4"]);
    }

    [Fact]
    public void HoldLast_AddsAFermataOverABeatAtLeast()
    {
        PassageNote last = RhythmVariation.HoldLast(ExcerptTests.Quavers(3)).Notes[^1];

        last.Length.Should().Be(Fraction.One);
        last.Articulations.Should().Be(Articulations.Fermata);
    }

    [Fact]
    public void All_Codes_AreUnique() => RhythmVariants.All.Should().OnlyHaveUniqueItems(variant => variant.Code);

    private static Fraction Shortest(Passage passage) => passage.Notes.Zip(passage.Notes.Skip(1), (a, b) => b.Onset - a.Onset).Append(passage.Notes[^1].Length).Min();

    /// <summary>The pitches, a note that is struck several times in a row once.</summary>
    private static List<int> Struck(Passage passage) =>
        passage.Notes.Select(note => note.MidiPitch).Aggregate(new List<int>(), (list, pitch) =>
        {
            if (list.Count == 0 || list[^1] != pitch)
            {
                list.Add(pitch);
            }

            return list;
        });
}
