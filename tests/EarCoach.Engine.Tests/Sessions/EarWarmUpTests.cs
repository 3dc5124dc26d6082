using EarCoach.Core.Judging;
using EarCoach.Engine.Sessions;
using FluentAssertions;
using Xunit;

namespace EarCoach.Engine.Tests.Sessions;

/// <summary>The warm-up has to go through the code that a player's first verdict will need.</summary>
public sealed class EarWarmUpTests
{
    [Fact]
    public async Task Start_RunsOnce_AndEnds()
    {
        Task first = EarWarmUp.Start();

        EarWarmUp.Start().Should().BeSameAs(first);
        await first.WaitAsync(TimeSpan.FromSeconds(60));
    }

    [Fact]
    public void WarmUp_JudgesAMissedAttempt_AndThenACleanOne()
    {
        MemoryStore store = new();
        EarWarmUp.Rehearse(store);

        store.Attempts[0].Result.Verdict.Should().Be(Verdict.Missed);
        store.Attempts[^1].Result.Verdict.Should().Be(Verdict.Clean);
        store.Attempts.Should().OnlyContain(attempt => !attempt.Clip!.Samples.IsEmpty);
    }
}
