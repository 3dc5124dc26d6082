using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;
using FluentAssertions;
using Xunit;

namespace EarCoach.Engine.Tests.Sessions;

/// <summary>Whole drills with the real ear and a player who does exactly what is asked.</summary>
public sealed class RobotTests
{
    private const int RateHz = 22_050;

    // Eight quarter notes at 100 a minute, no two neighbours alike.
    private static readonly Passage _passage = new()
    {
        Title = "Invented",
        Tempi = [new TempoMark(Fraction.Zero, 100)],
        Notes = [.. new[] { 60, 62, 64, 65, 67, 65, 64, 60 }.Select((midi, i) => new PassageNote { MidiPitch = midi, Onset = i, Length = 1 })],
    };

    private static readonly Passage _other = _passage with
    {
        Title = "Another",
        Notes = [.. new[] { 72, 69, 65, 67 }.Select((midi, i) => new PassageNote { MidiPitch = midi, Onset = i, Length = 1 })],
    };

    public static TheoryData<DrillPlan, int> Drills { get; } = new()
    {
        { new ChainPlan { CleanInARow = 1 }, 8 },
        { new ChainPlan { CleanInARow = 1, Direction = ChainDirection.Backward, Unit = ChainUnit.Beat }, 8 },
        { new ChainPlan { CleanInARow = 2, Unit = ChainUnit.Bar }, 4 },
        { new ChainPlan { CleanInARow = 1, FromNote = 4, Tolerances = new Tolerances { Timing = TimingMode.Fitted } }, 4 },
        { new RhythmPlan { Variants = ["2a", "2b", "3a", "4d"], Tempi = 1 }, 5 },
        { new RhythmPlan { Variants = ["2a", "3c"], Tempi = 2, StartShare = 0.7, Scalings = [VariantScaling.EqualTotal, VariantScaling.ShortsAtTarget] }, 10 },
        { new LadderPlan { CleanInARow = 1, NotchShare = 0.1 }, 5 },
        { new ProofPlan { Sets = 2, CleanInARow = 2 }, 4 },
        { new ColdTakePlan(), 1 },
        { new RotationPlan { AttemptsEach = 1, Rounds = 2 }, 4 },
        { new TroubleSpotPlan { Spots = [3], CleanInARow = 1, Neighbours = 1 }, 3 },
    };

    [Theory]
    [MemberData(nameof(Drills))]
    public void WhoPlaysWhatIsAsked_IsDoneInTheFewestAttempts(DrillPlan plan, int attempts)
    {
        RecordingFeed feed = new();
        PracticeSession session = Begin(plan, feed);
        RobotPlayer player = new RobotPlayer(session, RateHz).Begin();
        for (int attempt = 0; attempt < attempts; attempt++)
        {
            session.IsOver.Should().BeFalse();
            player.PlayTask();
            feed.Verdicts.Should().HaveCount(attempt + 1, "an attempt was played");
            feed.Verdicts[^1].Report.Lines.Should().BeEmpty(feed.Verdicts[^1].Report.Headline);
        }

        session.IsOver.Should().BeTrue();
        session.View.Drill.Tally.Should().Be(new AttemptTally(Clean: attempts, Missed: 0, NotCounted: 0, Disputed: 0));
    }

    [Fact]
    public void WhoPlaysEvenly_DoesNotPassALongShortRhythm()
    {
        RecordingFeed feed = new();
        PracticeSession session = Begin(new RhythmPlan { Variants = ["2a"], Tempi = 1 }, feed);
        RobotPlayer player = new RobotPlayer(session, RateHz).Begin();
        player.PlayTask(isEven: true);
        player.PlayTask();
        feed.Verdicts.Select(verdict => (verdict.Report.Result.Verdict, verdict.View.Drill.Stage)).Should().Equal((Verdict.Missed, 0), (Verdict.Clean, 1));
        feed.Verdicts[0].Report.Lines.Should().Contain(line => line.Contains("early by") || line.Contains("late by"));
    }

    // Each pair lasts two quarter notes and is written 3 : 1. A swing of 2 : 1 and the least that is clearly longer, 1.5 : 1, are that rhythm
    // too; by milliseconds they are not: at 100 a minute the short note of a swing is 100 ms early.
    [Theory]
    [InlineData(TimingMode.Rhythm, 3, Verdict.Clean)]
    [InlineData(TimingMode.Rhythm, 2, Verdict.Clean)]
    [InlineData(TimingMode.Rhythm, 1.5, Verdict.Clean)]
    [InlineData(TimingMode.Rhythm, 1.2, Verdict.Missed)]
    [InlineData(TimingMode.Fitted, 2, Verdict.Missed)]
    [InlineData(TimingMode.Strict, 2, Verdict.Missed)]
    public void ALongShortRhythm_IsJudgedByLongAndShort_UnlessMillisecondsAreAskedFor(TimingMode timing, double ratio, Verdict verdict)
    {
        RecordingFeed feed = new();
        RhythmPlan plan = new() { Variants = ["2a"], Tempi = 1 };
        plan.Tolerances.Timing.Should().Be(TimingMode.Rhythm, "it is the usual one");
        PracticeSession session = Begin(plan with { Tolerances = plan.Tolerances with { Timing = timing } }, feed);
        new RobotPlayer(session, RateHz).Begin().PlayTask(moved: place => place % 2 == 1.5 ? place - 1.5 + (2 * ratio / (1 + ratio)) : place);
        feed.Verdicts.Single().Report.Result.Verdict.Should().Be(verdict, string.Join("; ", feed.Verdicts[0].Report.Lines));
        if (timing == TimingMode.Rhythm && verdict == Verdict.Missed)
        {
            feed.Verdicts[0].Report.Lines.Should().OnlyContain(line => line.EndsWith("; long notes at least 1.5 times as long as short ones, equal ones within 20 % or 60 ms"));
            feed.Verdicts[0].Report.Result.Notes.Where(note => note.Faults.Length > 0).Should().OnlyContain(note => note.Index % 2 == 1 && note.MsOff < 0);
        }
    }

    // A wrong note is one fault, and no fault of its neighbours' lengths.
    [Fact]
    public void AWrongNote_InARhythm_IsTheOnlyFault()
    {
        RecordingFeed feed = new();
        PracticeSession session = Begin(new RhythmPlan { Variants = ["2a"], Tempi = 1 }, feed);
        new RobotPlayer(session, RateHz).Begin().PlayTask(wrongNote: 3);
        feed.Verdicts.Single().Report.Lines.Should().ContainSingle().Which.Should().Contain("wrong pitch");
    }

    // Bursts of four, the last held: each hold a beat longer than written, which it may be.
    [Theory]
    [InlineData(TimingMode.Rhythm)]
    [InlineData(TimingMode.Fitted)]
    public void ABurst_HeldLonger_IsClean(TimingMode timing)
    {
        RecordingFeed feed = new();
        PracticeSession session = Begin(new RhythmPlan { Variants = ["G4"], Tempi = 1, Tolerances = new Tolerances { Timing = timing } }, feed);
        new RobotPlayer(session, RateHz).Begin().PlayTask(moved: place => place + Math.Floor(place / 4));
        feed.Verdicts.Single().Report.Lines.Should().BeEmpty();
        session.View.Drill.Stage.Should().Be(1);
    }

    // Once as written at the end of each tempo: no longer by long and short alone.
    [Fact]
    public void TheEndOfARhythmDrill_AsWritten_IsJudgedByItsTempo()
    {
        RecordingFeed feed = new();
        PracticeSession session = Begin(new RhythmPlan { Variants = ["2a"], Tempi = 1 }, feed);
        session.View.Task!.Tolerances.Timing.Should().Be(TimingMode.Rhythm);
        new RobotPlayer(session, RateHz).Begin().PlayTask();
        session.View.Task!.Tolerances.Timing.Should().Be(TimingMode.Fitted);
    }

    [Fact]
    public void WhoPlaysFarTooFast_MissesTheTempoOfTheLadder()
    {
        RecordingFeed feed = new();
        PracticeSession session = Begin(new LadderPlan(), feed);
        new RobotPlayer(session, RateHz).Begin().PlayTask(tempoFactor: 1.4);
        feed.Verdicts.Single().Report.Lines.Should().ContainSingle().Which.Should().StartWith("too fast: 93.8 quarter notes a minute, asked 67");
    }

    [Fact]
    public void ADisputedMiss_GivesTheSetBack()
    {
        RecordingFeed feed = new();
        PracticeSession session = Begin(new ProofPlan(), feed);
        RobotPlayer player = new RobotPlayer(session, RateHz).Begin();
        player.PlayTask();
        player.PlayTask();
        player.PlayTask(wrongNote: 4);
        session.View.Drill.Count.Should().Be(0);
        feed.Verdicts[^1].Report.Lines.Should().Equal("bar 2, first note (G4): wrong pitch, G#4 heard");
        session.Dispute();
        session.View.Drill.Count.Should().Be(2);
        player.PlayTask();
        session.View.Drill.Seals.Should().Be(1);
    }

    private static PracticeSession Begin(DrillPlan plan, RecordingFeed feed) => PracticeSession.Begin(
        plan is RotationPlan ? [new SessionPassage(null, _passage), new SessionPassage(null, _other)] : [new SessionPassage(null, _passage)],
        plan, new MemoryStore(), feed, TimeProvider.System);
}
