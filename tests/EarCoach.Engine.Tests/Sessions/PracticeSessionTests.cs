using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;
using FluentAssertions;
using Xunit;

namespace EarCoach.Engine.Tests.Sessions;

public sealed class PracticeSessionTests
{
    [Fact]
    public void EveryVerdict_IsStoredWithItsClip_BeforeItIsTold()
    {
        Stage stage = new(new ProofPlan(), "ccmcn");
        stage.Feed.OnPublish = news =>
        {
            if (news is SessionEvent.Verdict verdict)
            {
                stage.Store.Attempts[^1].Number.Should().Be(verdict.Report.Number);
                stage.Store.Attempts[^1].Clip!.Samples.Length.Should().BeGreaterThan(Stage.RateHz);
            }
        };
        stage.Open().Play(10);
        stage.Feed.Verdicts.Select(verdict => verdict.Report.Result.Verdict)
            .Should().Equal(Verdict.Clean, Verdict.Clean, Verdict.Missed, Verdict.Clean, Verdict.NotCounted);
        stage.Feed.Verdicts.Select(verdict => verdict.View.Drill.Count).Should().Equal(1, 2, 0, 1, 1);
        stage.Store.Log.Select(entry => entry.Number).Should().Equal(1, 2, 3, 4, 5);
    }

    [Fact]
    public void WhenTheStoreFails_NothingIsTold_AndNothingCounts()
    {
        Stage stage = new Stage(new ProofPlan(), "ccc").Open().Play(2.5);
        stage.Store.Fails = true;
        FluentActions.Invoking(() => stage.Play(2)).Should().Throw<StoreException>();
        stage.Feed.Verdicts.Should().HaveCount(1);
        stage.Session.View.Drill.Count.Should().Be(1);
        FluentActions.Invoking(stage.Session.Pause).Should().Throw<StoreException>();
        stage.Session.View.Word.Should().NotBe(SessionWord.Paused);
    }

    [Fact]
    public void TheClip_HoldsTheAttempt_WithHalfASecondAround()
    {
        Stage stage = new Stage(new ProofPlan(), "c").Open().Play(2);
        AttemptClip clip = stage.Store.Attempts.Single().Clip!;
        clip.StartSample.Should().Be(0); // the attempt is from 0.5 to 1.5 s
        clip.Samples.Length.Should().Be(2 * Stage.RateHz);
        clip.Samples.Span[Stage.RateHz].Should().Be((short)MathF.Round(0.25f * 32767));
    }

    [Theory]
    [InlineData(128)]
    [InlineData(441)]
    [InlineData(16_000)]
    [InlineData(160_000)]
    public void WhatHappens_DoesNotDependOnTheBlocks(int blockSamples)
    {
        Stage stage = new Stage(new ChainPlan { CleanInARow = 1 }, "cmcc").Open().Play(10, blockSamples);
        stage.Feed.Verdicts.Select(verdict => (verdict.Report.Task.NoteCount, verdict.View.Drill.Stage)).Should().Equal((1, 1), (2, 1), (2, 2), (3, 3), (4, 4));
        stage.Feed.Verdicts.Select(verdict => verdict.Report.Result.StartSeconds).Should().Equal(0.5, 2.5, 4.5, 6.5, 8.5);
        stage.Ear.TasksSet.Select(task => task.Passage.Notes.Length).Should().Equal(1, 2, 3, 4);
        stage.Session.View.Word.Should().Be(SessionWord.Done);
    }

    [Fact]
    public void AGap_IsPassedOn_AndIsSilenceInTheClip()
    {
        Stage stage = new Stage(new ProofPlan(), "c").Open().Play(1).LoseSamples(800, 160).Play(1);
        stage.Ear.Gaps.Should().Be(1);
        ReadOnlySpan<short> clip = stage.Store.Attempts.Single().Clip!.Samples.Span;
        clip[Stage.RateHz - 1].Should().NotBe(0);
        clip[Stage.RateHz + 400].Should().Be(0);
    }

    [Fact]
    public void ADispute_TakesTheLastVerdictBack_InStoreAndView()
    {
        Stage stage = new Stage(new ProofPlan(), "ccm").Open().Play(6);
        stage.Session.View.CanDispute.Should().BeTrue();
        stage.Session.Dispute();
        SessionView view = stage.Session.View;
        (view.Drill.Count, view.Drill.Tally.Missed, view.Drill.Tally.Disputed, view.Drill.Tally.Clean).Should().Be((2, 0, 1, 2));
        view.LastVerdict!.Disputed.Should().BeTrue();
        view.LastVerdict.Headline.Should().StartWith("Not counted");
        view.CanDispute.Should().BeFalse();
        stage.Store.Attempts[^1].Disputed.Should().BeTrue();
        int entries = stage.Store.Log.Count;
        stage.Session.Dispute(); // a second press changes nothing
        stage.Store.Log.Should().HaveCount(entries);
        stage.Session.View.Drill.Should().Be(view.Drill);
    }

    [Fact]
    public void WhilePaused_NothingCounts_AndAnAttemptUnderWayIsDropped()
    {
        Stage stage = new Stage(new ProofPlan(), "c").Open().Play(1);
        stage.Session.Pause();
        stage.Session.View.Word.Should().Be(SessionWord.Paused);
        stage.Play(3.2);
        stage.Session.Resume();
        stage.Play(1.8); // the attempt of 4.5 to 5.5 s began after the pause: it counts
        stage.Feed.Verdicts.Should().ContainSingle().Which.Report.Result.StartSeconds.Should().Be(4.5);
    }

    [Fact]
    public void TakenUpAgain_ASessionHasItsCounts_ItsLastVerdictAndItsNumbers()
    {
        MemoryStore store = new();
        Stage first = new Stage(new ProofPlan(), "cccm", store: store).Open().Play(8);
        first.Session.Change(new ProofPlan { Sets = 5 });
        first.Play(4);
        SessionView before = first.Session.View;

        Stage second = new(new ProofPlan(), "c", store: store, takeUp: true);
        SessionView after = second.Session.View;
        after.Should().BeEquivalentTo(before with { Word = SessionWord.Waiting, Rest = null });
        (after.Drill.Seals, after.Drill.Count, after.Drill.Stages).Should().Be((1, 2, 5));
        second.Open().Play(2);
        second.Session.View.Drill.Seals.Should().Be(2);
        second.Store.Log[^1].Number.Should().Be(8);
    }

    [Fact]
    public void AStreamOpenedAgain_AtAnotherRate_GoesOnCounting()
    {
        Stage stage = new Stage(new ProofPlan(), "cc").Open().Play(4);
        stage.Time.Advance(TimeSpan.FromMinutes(10));
        stage.Open().Play(2); // sample 0 again
        stage.Session.View.Drill.Seals.Should().Be(1);
        stage.Store.Log.Select(entry => entry.Input).OfType<DrillInput.AttemptJudged>().Select(attempt => attempt.StartSeconds).Should().Equal(0.5, 2.5, 600.5);
    }

    [Fact]
    public void ARest_IsProposedAfterASet_AndEndsWhenThePlayerPlaysOn()
    {
        Stage stage = new Stage(new ProofPlan(), "ccc").Open().Play(6.1);
        stage.Session.View.Rest!.Reason.Should().Be(RestReason.BetweenSets);
        stage.Session.View.Word.Should().Be(SessionWord.Rest);
        stage.Play(0.6);
        stage.Session.View.Rest.Should().BeNull();
        stage.Session.View.Word.Should().Be(SessionWord.Listening);
    }

    [Fact]
    public void ChangedNumbers_WithProblems_AreRefusedInWords()
    {
        Stage stage = new(new ProofPlan(), "c");
        FluentActions.Invoking(() => stage.Session.Change(new ProofPlan { Sets = 0 })).Should().Throw<PlanException>().WithMessage("*Sets is 0; give 1 to 30*");
        FluentActions.Invoking(() => stage.Session.Change(new ChainPlan())).Should().Throw<PlanException>().WithMessage("*new session*");
        stage.Store.Log.Should().BeEmpty();
    }

    [Fact]
    public void AColdTake_IsRefusedOnceThePassageWasPlayedToday()
    {
        MemoryStore store = new();
        StillTime time = new(new DateTimeOffset(2026, 3, 2, 18, 0, 0, TimeSpan.Zero));
        Stage cold = new Stage(new ColdTakePlan(), "m", store: store, time: time).Open().Play(2);
        cold.Session.View.Word.Should().Be(SessionWord.Done);
        FluentActions.Invoking(() => new Stage(new ColdTakePlan(), "c", store: store, time: time)).Should().Throw<PlanException>().WithMessage("*tomorrow*");
        time.Advance(TimeSpan.FromDays(1));
        FluentActions.Invoking(() => new Stage(new ColdTakePlan(), "c", store: store, time: time)).Should().NotThrow();
    }

    [Fact]
    public void ACue_IsExpectedFromTheNewestSampleOn()
    {
        Stage stage = new Stage(new ProofPlan(), "c").Open().Play(1);
        stage.Session.ExpectCue([440, 660], 0.25);
        stage.Ear.Cue.TonesHz.Should().Equal(440, 660);
        stage.Ear.Cue.UntilSample.Should().Be(Stage.RateHz * 5 / 4);
    }

    [Fact]
    public void Live_IsToldAtLeastEvery40Ms_WithTheWord()
    {
        Stage stage = new Stage(new ProofPlan(), "c").Open().Play(3, 128);
        List<SessionEvent.Live> live = [.. stage.Feed.News.OfType<SessionEvent.Live>()];
        live.Zip(live.Skip(1)).Should().OnlyContain(pair => pair.Second.AtSeconds - pair.First.AtSeconds <= 0.04);
        live.Should().Contain(reading => reading.Word == SessionWord.Listening).And.Contain(reading => reading.Word == SessionWord.Ready);
    }

    [Fact]
    public void ManyThreads_AtOnce_LeaveALogWithoutHoles()
    {
        Stage stage = new Stage(new ProofPlan { Sets = 30, CleanInARow = 50 }, string.Empty).Open();
        using CancellationTokenSource stop = new();
        Thread[] pressers = [.. Enumerable.Range(0, 4).Select(i => new Thread(() =>
        {
            while (!stop.IsCancellationRequested)
            {
                stage.Session.Dispute();
                stage.Session.Pause();
                stage.Session.Resume();
                _ = stage.Session.View;
            }
        }))];
        Array.ForEach(pressers, thread => thread.Start());
        stage.Play(30, 128);
        stop.Cancel();
        Array.ForEach(pressers, thread => thread.Join());
        stage.Store.Log.Select(entry => entry.Number).Should().Equal(Enumerable.Range(1, stage.Store.Log.Count));
        DrillState replayed = stage.Store.Log.Aggregate(
            new Drill([Stage.PassageOf(4)]).Start(new ProofPlan { Sets = 30, CleanInARow = 50 }),
            (state, entry) => new Drill([Stage.PassageOf(4)]).Reduce(state, entry.Input).Next);
        new Drill([Stage.PassageOf(4)]).ViewOf(replayed).Should().BeEquivalentTo(stage.Session.View.Drill);
    }
}
