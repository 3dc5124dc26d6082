using EarCoach.Engine.Sessions;
using FluentAssertions;
using Xunit;

namespace EarCoach.Engine.Tests.Sessions;

public sealed class EarWarmUpTests
{
    [Fact]
    public async Task Start_RunsOnce_AndEnds()
    {
        Task first = EarWarmUp.Start();

        EarWarmUp.Start().Should().BeSameAs(first);
        await first.WaitAsync(TimeSpan.FromSeconds(60));
    }
}
