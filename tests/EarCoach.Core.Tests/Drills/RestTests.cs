using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Drills;

/// <summary>When a rest is proposed. The rules' sources stand at <see cref="RestRules"/>.</summary>
public sealed class RestTests
{
    private static readonly Drill _drill = new([DrillGen.Quarters(4)]);

    private static readonly ProofPlan _long = new() { Sets = 30, CleanInARow = 50, Rests = new RestRules { BetweenSetsSeconds = 0, EarlyBreakMinutes = 0 } };

    [Fact]
    public void PlayingWithoutRests_IsAnsweredByARestAsLongAsWasPlayed()
    {
        // 10 s of playing with 1 s between: 9 s more owed an attempt after the first; 90 s are reached by the tenth: 10 x 10 - 9 x 1 = 91.
        List<(int Attempt, DrillEffect.RestProposed Proposal)> rests = [.. Rests(_long, Attempts(15, length: 10, gap: 1, Verdict.Clean))];
        rests.Should().Equal((10, new DrillEffect.RestProposed(RestReason.PlayedAhead, 91)));
    }

    [Fact]
    public void RestingAsLongAsPlaying_NeedsNoProposal() =>
        Rests(_long, Attempts(40, length: 10, gap: 10, Verdict.Clean)).Should().BeEmpty();

    [Fact]
    public void TwentyFiveMinutes_AreAnsweredByFiveOff()
    {
        // 20 s each with 20 s between: attempt k ends at 40 k - 20; 1500 s are reached by k = 38.
        List<(int Attempt, DrillEffect.RestProposed Proposal)> rests = [.. Rests(_long, Attempts(60, length: 20, gap: 20, Verdict.Clean))];
        rests.Should().Equal((38, new DrillEffect.RestProposed(RestReason.LongStretch, 300)));
    }

    [Fact]
    public void AFirstBreak_IsProposedEarly_Once_AndNotWhereOneWasTaken()
    {
        // Attempt k ends at 40 k - 20; eight minutes, 480 s, are reached by k = 13 (500 s).
        ProofPlan early = _long with { Rests = _long.Rests with { EarlyBreakMinutes = 8 } };
        Rests(early, Attempts(30, length: 20, gap: 20, Verdict.Clean)).Should().Equal((13, new DrillEffect.RestProposed(RestReason.EarlyBreak, 300)));
        Rests(early, Attempts(5, length: 20, gap: 20, Verdict.Clean).Concat(Attempts(30, length: 20, gap: 20, Verdict.Clean, startAt: 600))).Should().BeEmpty();
    }

    // Horn in F: the usual range ends at sounding F5 (77); a fourth below it is C5 (72).
    [Theory]
    [InlineData("horn-f", new[] { 60, 62, 64, 72 }, 10)]
    [InlineData("horn-f", new[] { 60, 62, 64, 71 }, 20)]
    [InlineData("flute", new[] { 96, 96, 96, 96 }, 20)]
    [InlineData(null, new[] { 96, 96, 96, 96 }, 20)]
    public void HighPassagesOnBrass_HaveCloserLimits(string? instrument, int[] pitches, int attemptsPerStage)
    {
        Passage passage = new()
        {
            Title = "Invented",
            InstrumentId = instrument,
            Notes = [.. pitches.Select((pitch, i) => new PassageNote { MidiPitch = pitch, Onset = i, Length = 1 })],
        };

        RestRules rules = RestRules.For([passage]);

        rules.AttemptsPerStage.Should().Be(attemptsPerStage);
        rules.Problems().Should().BeEmpty();
    }

    [Fact]
    public void ABreakOfFiveMinutes_BeginsTheStretchAnew()
    {
        DrillInput.AttemptJudged[] before = [.. Attempts(30, length: 20, gap: 20, Verdict.Clean)];
        double end = before[^1].EndSeconds + 300;
        IEnumerable<DrillInput.AttemptJudged> after = Attempts(30, length: 20, gap: 20, Verdict.Clean)
            .Select(attempt => attempt with { StartSeconds = attempt.StartSeconds + end, EndSeconds = attempt.EndSeconds + end });
        Rests(_long, before.Concat(after)).Should().BeEmpty();
    }

    [Fact]
    public void TheDaysPlayingTime_CountsWhatWasPlayedEarlier()
    {
        // 75 minutes are 4500 s; 4400 s earlier today and ten attempts of 10 s are enough.
        DrillState state = _drill.Start(_long, playedEarlierTodaySeconds: 4400);
        List<DrillEffect> effects = [];
        foreach (DrillInput input in Attempts(12, length: 10, gap: 10, Verdict.Clean))
        {
            DrillStep step = _drill.Reduce(state, input);
            effects.AddRange(step.Effects);
            state = step.Next;
        }

        effects.OfType<DrillEffect.RestProposed>().Should().Equal(new DrillEffect.RestProposed(RestReason.EnoughForToday, null));
    }

    [Fact]
    public void LateMisses_AfterManyCleanOnes_AreTakenForTiredness_OnlyThen()
    {
        IEnumerable<DrillInput.AttemptJudged> late = Attempts(8, 2, 5, Verdict.Clean).Concat(Attempts(8, 2, 5, Verdict.Missed, startAt: 100));
        Rests(_long, late).Should().Equal((11, new DrillEffect.RestProposed(RestReason.Tiredness, 300)));
        Rests(_long, Attempts(10, 2, 5, Verdict.Missed)).Should().BeEmpty();
    }

    [Fact]
    public void ManyAttemptsAtOneStage_AreAnsweredBySomethingEasier()
    {
        DrillState state = _drill.Start(new ChainPlan());
        List<int> proposed = [];
        int number = 0;
        foreach (DrillInput input in Attempts(45, 2, 5, Verdict.Missed))
        {
            number++;
            DrillStep step = _drill.Reduce(state, input);
            if (step.Effects.Any(effect => effect is DrillEffect.EasierProposed { Reason: EasierReason.ManyAttempts }))
            {
                proposed.Add(number);
            }

            state = step.Next;
        }

        proposed.Should().Equal(20, 40);
    }

    [Fact]
    public void ThreeMissesRunning_AreAnsweredBySomethingEasier_Once()
    {
        DrillState state = _drill.Start(new ChainPlan());
        List<int> proposed = [];
        int number = 0;
        foreach (DrillInput input in DrillGen.Log("mmcmnmmmmdm"))
        {
            number++;
            DrillStep step = _drill.Reduce(state, input);
            if (step.Effects.Any(effect => effect is DrillEffect.EasierProposed { Reason: EasierReason.MissesRunning }))
            {
                proposed.Add(number);
            }

            state = step.Next;
        }

        proposed.Should().Equal(7); // once; what is not counted is no part of the row
    }

    // A coin player (one clean, one missed, and the prior's one each) with two of three sets to go: twice 14 attempts (Feller: three heads).
    [Fact]
    public void TheOutlook_IsFellers()
    {
        DrillState state = DrillGen.Play(_drill, new ProofPlan(), DrillGen.Log("mmmccc"));
        Outlook.ExpectedAttemptsLeft(_drill.ViewOf(state)).Should().BeApproximately(28, 1e-9);
        Outlook.ExpectedAttemptsLeft(_drill.ViewOf(_drill.Start(new ProofPlan()))).Should().BeNull();
    }

    private static IEnumerable<DrillInput.AttemptJudged> Attempts(int count, double length, double gap, Verdict verdict, double startAt = 0) =>
        Enumerable.Range(0, count).Select(i => new DrillInput.AttemptJudged(verdict, startAt + (i * (length + gap)), startAt + (i * (length + gap)) + length));

    private static IEnumerable<(int Attempt, DrillEffect.RestProposed Proposal)> Rests(DrillPlan plan, IEnumerable<DrillInput.AttemptJudged> attempts)
    {
        DrillState state = _drill.Start(plan);
        int number = 0;
        foreach (DrillInput.AttemptJudged attempt in attempts)
        {
            number++;
            DrillStep step = _drill.Reduce(state, attempt);
            state = step.Next;
            foreach (DrillEffect.RestProposed rest in step.Effects.OfType<DrillEffect.RestProposed>())
            {
                yield return (number, rest);
            }
        }
    }
}
