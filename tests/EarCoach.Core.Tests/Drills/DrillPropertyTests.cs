using System.Text.RegularExpressions;
using CsCheck;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Drills;

/// <summary>What holds for every drill, whatever happens to it.</summary>
public sealed class DrillPropertyTests
{
    [Fact]
    public void Replaying_TheLog_GivesTheSameState() => DrillGen.Story.Sample((drill, plan, inputs) =>
    {
        DrillState once = DrillGen.Play(drill, plan, inputs);
        DrillState again = DrillGen.Play(new Drill(drill.Passages), plan, inputs.Select(input => input));
        return once == again;
    });

    // An independent count of what clean attempts alone can reach: each maximal run of L clean ones passes floor(L / n) stages or sets.
    [Fact]
    public void WithoutSkips_StagesAreExactlyWhatTheCleanRunsPay() => DrillGen.Attempts.Where(story => Needed(story.Plan) is not null).Sample((drill, plan, inputs) =>
    {
        int n = Needed(plan)!.Value;
        string letters = string.Concat(inputs.OfType<DrillInput.AttemptJudged>().Select(attempt => attempt.Verdict switch
        {
            Verdict.Clean => "c",
            Verdict.Missed => "m",
            _ => string.Empty,
        }));
        DrillView view = drill.ViewOf(DrillGen.Play(drill, plan, inputs));
        int paid = Regex.Matches(letters, "c+").Sum(run => run.Length / n);
        view.Stage.Should().Be(Math.Min(paid, view.Stages));
        if (view.Stage < view.Stages)
        {
            view.Count.Should().Be(Regex.Match(letters, "c*$").Length % n);
        }
    });

    [Fact]
    public void NoStep_IsTakenWithoutItsCleanAttempts() => EachStep((drill, before, input, step) =>
    {
        DrillView was = drill.ViewOf(before);
        DrillView now = drill.ViewOf(step.Next);
        bool clean = input is DrillInput.AttemptJudged { Verdict: Verdict.Clean };
        if (input is DrillInput.AttemptJudged && before.Phase == DrillPhase.Active && before.Progress is DrillProgress.Climb or DrillProgress.Sets)
        {
            now.Stage.Should().BeLessThanOrEqualTo(was.Stage + (clean && was.Count + 1 >= was.Needed ? 1 : 0));
            now.Count.Should().BeLessThanOrEqualTo(was.Count + (clean ? 1 : 0));
        }
        else if (input is DrillInput.Skipped && now.Stage > was.Stage && before.Progress is DrillProgress.Climb)
        {
            now.Skipped.Should().Be(was.Skipped + 1);
        }
        else if (input is DrillInput.PlanChanged or DrillInput.Repeated or DrillInput.Paused or DrillInput.Resumed && was.Task is { } old)
        {
            now.Seals.Should().BeLessThanOrEqualTo(was.Seals);
            now.Count.Should().BeLessThanOrEqualTo(was.Count);
            if (input is DrillInput.Repeated)
            {
                now.Stage.Should().BeLessThanOrEqualTo(was.Stage);
            }
            else if (before.Progress is DrillProgress.Climb && now.Stage > 0) // at the beginning of a new plan anything may stand
            {
                now.Task!.NoteCount.Should().BeLessThanOrEqualTo(old.NoteCount);
                (now.Task.QuartersPerMinute ?? 0).Should().BeLessThanOrEqualTo((old.QuartersPerMinute ?? 1000) + 1e-9);
            }
        }
    });

    [Fact]
    public void AFinishedSet_IsNeverTouched_ButByADisputeOfItsLastAttempt() => EachStep((drill, before, input, step) =>
    {
        if (before.Progress is DrillProgress.Sets was && step.Next.Progress is DrillProgress.Sets now && input is not DrillInput.Disputed)
        {
            now.FinishedSets.Should().BeGreaterThanOrEqualTo(was.FinishedSets);
        }
    });

    [Fact]
    public void ADispute_NeverMakesAnythingClean_AndGoesBackToBefore() => EachStep((drill, before, input, step) =>
    {
        if (input is not DrillInput.Disputed)
        {
            return;
        }

        step.Next.Tally.Clean.Should().BeLessThanOrEqualTo(before.Tally.Clean);
        step.Next.Tally.All.Should().Be(before.Tally.All);
        step.Next.Rests.PlayedSeconds.Should().Be(before.Rests.PlayedSeconds);
        if (before.Last is { } last && last.Before is not DrillProgress.OneTake)
        {
            step.Next.Progress.Should().Be(last.Before);
        }

        drill.Reduce(step.Next, input).Next.Should().BeSameAs(step.Next); // a second press takes nothing more back
    });

    [Fact]
    public void AnAttemptAndItsDispute_LeaveTheCountAsItWas() => DrillGen.Story.Select(DrillGen.Verdict).Sample((story, verdict) =>
    {
        DrillState before = DrillGen.Play(story.Drill, story.Plan, story.Inputs);
        DrillState after = DrillGen.Play(story.Drill, story.Plan, [.. story.Inputs, new DrillInput.AttemptJudged(verdict, 5000, 5003), new DrillInput.Disputed()]);
        if (before.Phase == DrillPhase.Active && verdict != Verdict.NotCounted && before.Progress is not DrillProgress.OneTake)
        {
            after.Progress.Should().Be(before.Progress);
            story.Drill.TaskOf(after).Should().Be(story.Drill.TaskOf(before));
        }
    });

    [Fact]
    public void NotCounted_ChangesNothingThatCounts() => EachStep((drill, before, input, step) =>
    {
        if (input is DrillInput.AttemptJudged { Verdict: Verdict.NotCounted })
        {
            step.Next.Progress.Should().Be(before.Progress);
            step.Next.Tally.Clean.Should().Be(before.Tally.Clean);
            step.Next.Tally.Missed.Should().Be(before.Tally.Missed);
        }
    });

    [Fact]
    public void Counts_AreNeverNegative_AndNeverAboveWhatIsAskedFor() => EachStep((drill, _, _, step) =>
    {
        DrillView view = drill.ViewOf(step.Next);
        AttemptTally tally = step.Next.Tally;
        new[] { view.Stage, view.Count, view.Seals, view.Skipped, tally.Clean, tally.Missed, tally.NotCounted, tally.Disputed }.Min().Should().BeGreaterThanOrEqualTo(0);
        step.Next.Rests.OwedSeconds.Should().BeGreaterThanOrEqualTo(0);
        view.Stage.Should().BeLessThanOrEqualTo(view.Stages);
        if (view.Task is not null)
        {
            view.Count.Should().BeLessThan(view.Needed);
        }

        (view.Task is null).Should().Be(view.Phase == DrillPhase.Done);
    });

    // Each pair of phase and input that does not apply, by name; then as a property: no effects without a change.
    [Theory]
    [InlineData("", "d")] // nothing to dispute
    [InlineData("c", "dd")] // disputed already
    [InlineData("n", "d")] // not counted already
    [InlineData("cs", "d")] // the drill has moved on by a command since
    [InlineData("", "g")] // not paused
    [InlineData("p", "p")] // paused already
    [InlineData("p", "c")] // paused: attempts count for nothing
    [InlineData("p", "m")]
    [InlineData("p", "n")]
    [InlineData("p", "s")]
    [InlineData("p", "r")]
    [InlineData("", "r")] // nothing to repeat
    [InlineData("cccccc", "c")] // done
    [InlineData("cccccc", "m")]
    [InlineData("cccccc", "s")]
    [InlineData("cccccc", "r")]
    [InlineData("cccccc", "p")]
    [InlineData("cccccc", "g")]
    public void AnInputThatDoesNotApply_ChangesNothing(string log, string input)
    {
        Drill drill = new([DrillGen.Quarters(2)]);
        DrillState state = DrillGen.Play(drill, new ChainPlan(), DrillGen.Log(log + input[..^1]));
        DrillStep step = drill.Reduce(state, DrillGen.Log(input[^1..]).Single());
        step.Next.Should().BeSameAs(state);
        step.Effects.Should().BeEmpty();
    }

    [Fact]
    public void AnotherKindOfPlan_OrOneWithProblems_ChangesNothing()
    {
        Drill drill = new([DrillGen.Quarters(4)]);
        DrillState state = DrillGen.Play(drill, new ChainPlan(), DrillGen.Log("cc"));
        foreach (DrillPlan plan in new DrillPlan[] { new ProofPlan(), new ChainPlan { CleanInARow = 0 }, new ChainPlan { FromNote = 4 }, new ChainPlan() })
        {
            drill.Reduce(state, new DrillInput.PlanChanged(plan)).Next.Should().BeSameAs(state);
        }
    }

    [Fact]
    public void NoEffects_WithoutAChange() => EachStep((_, before, _, step) =>
    {
        if (ReferenceEquals(step.Next, before))
        {
            step.Effects.Should().BeEmpty();
        }
    });

    private static int? Needed(DrillPlan plan) => plan switch
    {
        ChainPlan chain => chain.CleanInARow,
        RhythmPlan rhythm => rhythm.CleanInARow,
        LadderPlan { DropMisses: 0 } ladder => ladder.CleanInARow,
        ProofPlan proof => proof.CleanInARow,
        TroubleSpotPlan spot => spot.CleanInARow,
        _ => null,
    };

    private static void EachStep(Action<Drill, DrillState, DrillInput, DrillStep> check) => DrillGen.Story.Sample((drill, plan, inputs) =>
    {
        DrillState state = drill.Start(plan);
        foreach (DrillInput input in inputs)
        {
            DrillStep step = drill.Reduce(state, input);
            check(drill, state, input, step);
            state = step.Next;
        }
    });
}
