using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Drills;

/// <summary>Each drill, told as a player would tell it.</summary>
public sealed class DrillExampleTests
{
    [Fact]
    public void Chain_Forward_GrowsAtTheEnd_Backward_AtTheFront()
    {
        Stages(new ChainPlan(), DrillGen.Quarters(3)).Should().Equal((0, 1), (0, 2), (0, 3));
        Stages(new ChainPlan { Direction = ChainDirection.Backward }, DrillGen.Quarters(3)).Should().Equal((2, 1), (1, 2), (0, 3));
        Stages(new ChainPlan { FromNote = 1 }, DrillGen.Quarters(4)).Should().Equal((1, 1), (1, 2), (1, 3));
        Stages(new ChainPlan { FromNote = 1, Direction = ChainDirection.Backward }, DrillGen.Quarters(4)).Should().Equal((1, 1), (0, 2));
    }

    // Two bars of 4/4: quarter, two eighths, half | half, half. Beats begin on notes 0, 1 (with 2), 3; 4, 5. Bars on 0 and 4.
    [Fact]
    public void Chain_ByBeatOrBar_GrowsToTheEndOfEach()
    {
        Passage passage = DrillGen.PassageOf([2, 1, 1, 4, 4, 4], (4, 4), Fraction.Zero);
        Stages(new ChainPlan { Unit = ChainUnit.Beat }, passage).Should().Equal((0, 1), (0, 3), (0, 4), (0, 5), (0, 6));
        Stages(new ChainPlan { Unit = ChainUnit.Bar }, passage).Should().Equal((0, 4), (0, 6));
        Stages(new ChainPlan { Unit = ChainUnit.Bar, Direction = ChainDirection.Backward }, passage).Should().Equal((4, 2), (0, 6));
    }

    // A pickup of one quarter, then bars of 3/4: the pickup is a bar of its own.
    [Fact]
    public void Chain_ByBar_WithAPickup_BeginsWithIt() =>
        Stages(new ChainPlan { Unit = ChainUnit.Bar }, DrillGen.PassageOf([2, 2, 2, 2, 2], (3, 4), Fraction.One)).Should().Equal((0, 1), (0, 4), (0, 5));

    // In 6/8 the beat is a dotted quarter note: common practice.
    [Fact]
    public void Chain_ByBeat_InSixEight_TakesThreeEighths() =>
        Stages(new ChainPlan { Unit = ChainUnit.Beat }, DrillGen.PassageOf([1, 1, 1, 1, 1, 1], (6, 8), Fraction.Zero)).Should().Equal((0, 3), (0, 6));

    [Fact]
    public void Chain_IsPitchOnly_UnlessAskedOtherwise()
    {
        Drill drill = new([DrillGen.Quarters(2)]);
        drill.TaskOf(drill.Start(new ChainPlan()))!.Tolerances.Timing.Should().Be(TimingMode.Off);
        drill.TaskOf(drill.Start(new ChainPlan { Tolerances = new Tolerances { Timing = TimingMode.Fitted } }))!.Tolerances.Timing.Should().Be(TimingMode.Fitted);
    }

    // Source: Estrin: start ten metronome notches below the goal: 120 to 80, that is 67 %. The notches between are those of the traditional
    // scale (80 84 88 92 96 100 104 108 112 116 120), each within half a notch (2 %) of ours.
    [Fact]
    public void Ladder_FromTwoThirds_TakesTheTenNotchesOfTheMetronome()
    {
        double[] traditional = [80, 84, 88, 92, 96, 100, 104, 108, 112, 116, 120];
        double[] ours = [.. TempoSteps.ByNotch(120, 0.67, 0.04, 0)];
        ours.Should().HaveCount(traditional.Length);
        ours.Zip(traditional).Should().OnlyContain(pair => Math.Abs(pair.First - pair.Second) <= 0.02 * pair.Second);
        ours[^1].Should().Be(120);
    }

    [Theory]
    [InlineData("ccc", 1)]
    [InlineData("cccccc", 2)]
    [InlineData("cccccm", 1)]
    [InlineData("cccmcm", 0)] // two of the last three missed: one notch down
    [InlineData("cccmccm", 1)] // two misses, but three apart
    [InlineData("cccccmm", 0)]
    [InlineData("cccmmm", 0)] // the count of misses begins anew after the step
    [InlineData("ccccccmmmm", 0)]
    [InlineData("cccmnm", 0)] // not counted attempts are no part of the three
    public void Ladder_ClimbsAndStepsDown(string log, int notch)
    {
        Drill drill = new([DrillGen.Quarters(4)]);
        DrillState state = DrillGen.Play(drill, new LadderPlan(), DrillGen.Log(log));
        drill.ViewOf(state).Stage.Should().Be(notch);
    }

    [Fact]
    public void Ladder_AtItsLowestTempo_ProposesSomethingEasier()
    {
        Drill drill = new([DrillGen.Quarters(4)]);
        DrillState state = DrillGen.Play(drill, new LadderPlan(), DrillGen.Log("m"));
        drill.Reduce(state, DrillGen.Log("m").Single()).Effects.Should().ContainEquivalentOf(new DrillEffect.EasierProposed(EasierReason.LowestTempo));
    }

    [Theory]
    [InlineData("ccc", 1, 0)]
    [InlineData("cccccm", 1, 0)]
    [InlineData("cccccmcc", 1, 2)]
    [InlineData("ccccccccc", 3, 0)]
    [InlineData("cccd", 0, 2)] // disputing the third takes the seal back with it
    [InlineData("ccmd", 0, 2)] // disputing a miss brings the two back
    [InlineData("ccs", 0, 2)] // a set can't be skipped
    [InlineData("ccccr", 1, 0)] // start this set over; the seal stays
    [InlineData("ccncd", 0, 2)]
    public void Proof_CountsSetsAndStreak(string log, int seals, int streak)
    {
        Drill drill = new([DrillGen.Quarters(4)]);
        DrillView view = drill.ViewOf(DrillGen.Play(drill, new ProofPlan(), DrillGen.Log(log)));
        (view.Seals, view.Count).Should().Be((seals, streak));
    }

    [Fact]
    public void Proof_ASet_EarnsASealAndARest_AndTheLastFinishes()
    {
        Drill drill = new([DrillGen.Quarters(4)]);
        DrillState state = DrillGen.Play(drill, new ProofPlan { Sets = 2 }, DrillGen.Log("cc"));
        DrillStep first = drill.Reduce(state, DrillGen.Log("c").Single());
        first.Effects.Should().Equal(
            new DrillEffect.Advanced(3, 3), new DrillEffect.SetFinished(0), new DrillEffect.RestProposed(RestReason.BetweenSets, 30));
        state = DrillGen.Log("cc").Aggregate(first.Next, (s, input) => drill.Reduce(s, input).Next);
        drill.Reduce(state, DrillGen.Log("c").Single()).Effects.Should().Equal(
            new DrillEffect.Advanced(3, 3), new DrillEffect.SetFinished(1), new DrillEffect.Finished());
    }

    [Theory]
    [InlineData("c", true, Verdict.Clean)]
    [InlineData("m", true, Verdict.Missed)]
    [InlineData("n", false, null)]
    [InlineData("nc", true, Verdict.Clean)]
    [InlineData("md", true, null)] // void: a second play-through is no first one
    [InlineData("s", true, null)]
    [InlineData("mc", true, Verdict.Missed)]
    public void ColdTake_CountsOnce(string log, bool taken, Verdict? verdict)
    {
        Drill drill = new([DrillGen.Quarters(4)]);
        DrillGen.Play(drill, new ColdTakePlan(), DrillGen.Log(log)).Progress.Should().Be(new DrillProgress.OneTake(taken, verdict));
    }

    [Fact]
    public void Rotation_TakesTurns_WhateverTheVerdicts()
    {
        Drill drill = new([DrillGen.Quarters(4), DrillGen.Quarters(2)]);
        RotationPlan plan = new() { AttemptsEach = 2, Rounds = 2 };
        int[] passages = [.. Enumerable.Range(0, 8).Select(i => drill.TaskOf(DrillGen.Play(drill, plan, DrillGen.Log("cmcmmmcc"[..i])))!.PassageIndex)];
        passages.Should().Equal(0, 0, 1, 1, 0, 0, 1, 1);
        DrillGen.Play(drill, plan, DrillGen.Log("cmcmmmcc")).Phase.Should().Be(DrillPhase.Done);
    }

    [Fact]
    public void TroubleSpot_GrowsOutwardsFromTheNote_AndStopsAtTheEdges()
    {
        Stages(new TroubleSpotPlan { Spots = [2] }, DrillGen.Quarters(8)).Should().Equal((2, 1), (1, 2), (1, 3), (0, 4), (0, 5));
        Stages(new TroubleSpotPlan { Spots = [0], Neighbours = 1 }, DrillGen.Quarters(8)).Should().Equal((0, 1), (0, 2));
        Stages(new TroubleSpotPlan { Spots = [7, 3], Neighbours = 1 }, DrillGen.Quarters(8)).Should().Equal((7, 1), (6, 2), (3, 1), (2, 2), (2, 3));
    }

    [Fact]
    public void Rhythm_PlaysEachVariantInEachScaling_ThenTheNextTempo()
    {
        Drill drill = new([DrillGen.Quarters(4)]);
        RhythmPlan plan = new()
        {
            Variants = ["2a", "3b"],
            Scalings = [VariantScaling.EqualTotal, VariantScaling.ShortsAtTarget],
            Tempi = 2,
            StartShare = 0.5,
            GoalQuartersPerMinute = 100,
        };
        IEnumerable<(string?, VariantScaling, double?)> tasks = Enumerable.Range(0, 10)
            .Select(i => drill.TaskOf(DrillGen.Play(drill, plan, DrillGen.Log(new string('c', i))))!)
            .Select(task => (task.VariantCode, task.Scaling, task.QuartersPerMinute));
        tasks.Should().Equal(
            ("2a", VariantScaling.EqualTotal, 50),
            ("2a", VariantScaling.ShortsAtTarget, 50),
            ("3b", VariantScaling.EqualTotal, 50),
            ("3b", VariantScaling.ShortsAtTarget, 50),
            (null, VariantScaling.EqualTotal, 50),
            ("2a", VariantScaling.EqualTotal, 100),
            ("2a", VariantScaling.ShortsAtTarget, 100),
            ("3b", VariantScaling.EqualTotal, 100),
            ("3b", VariantScaling.ShortsAtTarget, 100),
            (null, VariantScaling.EqualTotal, 100));
    }

    [Fact]
    public void ChangedNumbers_KeepWhatWasEarned()
    {
        Drill drill = new([DrillGen.Quarters(4)]);
        DrillState chain = DrillGen.Play(drill, new ChainPlan(), DrillGen.Log("cccccccc")); // two lengths and two of three
        DrillView easier = drill.ViewOf(drill.Reduce(chain, new DrillInput.PlanChanged(new ChainPlan { CleanInARow = 2 })).Next);
        (easier.Stage, easier.Count).Should().Be((2, 1)); // one more clean is still asked for
        DrillView stricter = drill.ViewOf(drill.Reduce(chain, new DrillInput.PlanChanged(new ChainPlan { Tolerances = new Tolerances { Cents = 10 } })).Next);
        (stricter.Stage, stricter.Count).Should().Be((2, 0)); // the length stays, but its attempts were for another strictness
        DrillState proof = DrillGen.Play(drill, new ProofPlan(), DrillGen.Log("cccccc"));
        DrillStep fewer = drill.Reduce(proof, new DrillInput.PlanChanged(new ProofPlan { Sets = 2 }));
        fewer.Effects.Should().ContainSingle(effect => effect is DrillEffect.Finished);
        drill.ViewOf(fewer.Next).Seals.Should().Be(2);
    }

    [Fact]
    public void Problems_NameEveryBrokenRule()
    {
        Drill drill = new([DrillGen.Quarters(4)]);
        drill.Problems(new LadderPlan { StartShare = 3, DropMisses = 9 }).Should().HaveCount(2);
        drill.Problems(new RotationPlan()).Should().ContainSingle().Which.Should().Contain("two passages");
        drill.Problems(new TroubleSpotPlan { Spots = [4] }).Should().ContainSingle().Which.Should().Contain("0 to 3");
        FluentActions.Invoking(() => drill.Start(new ChainPlan { FromNote = 9 })).Should().Throw<ArgumentException>().WithMessage("*0 to 3*");
    }

    private static IEnumerable<(int First, int Count)> Stages(DrillPlan plan, Passage passage)
    {
        Drill drill = new([passage]);
        DrillState state = drill.Start(plan);
        while (drill.TaskOf(state) is { } task)
        {
            yield return (task.FirstNote, task.NoteCount);
            state = drill.Reduce(state, new DrillInput.Skipped()).Next;
        }
    }
}
