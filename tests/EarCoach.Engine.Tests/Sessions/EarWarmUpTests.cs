using EarCoach.Core.Judging;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;
using Xunit;

namespace EarCoach.Engine.Tests.Sessions;

/// <summary>The warm-up has to go through the code that a player's first verdict will need.</summary>
public sealed class EarWarmUpTests
{
    [Fact]
    public void WarmUp_JudgesAMissedAttempt_AndThenACleanOne()
    {
        IReadOnlyList<JudgedAttempt> judged = EarWarmUp.Rehearse();

        Assert.Equal(Verdict.Missed, judged[0].Result.Verdict);
        Assert.Equal(Verdict.Clean, judged[^1].Result.Verdict);
        Assert.All(judged, attempt => Assert.False(attempt.Clip!.Samples.IsEmpty));
    }
}
