using EarCoach.App.Commands;
using FluentAssertions;
using Xunit;

namespace EarCoach.App.Tests;

public sealed class InterruptibleInputTests
{
    [Fact]
    public async Task Read_WaitingForMore_EndsWhenClosed()
    {
        byte[] sound = [1, 2, 3, 4, 5];
        using var pipe = new EndlessPipe(sound, () => { });
        var input = new InterruptibleInput(pipe);
        byte[] read = new byte[3];

        input.Read(read).Should().Be(3);
        read.Should().Equal(1, 2, 3);
        input.Read(read).Should().Be(2);
        Task<int> waiting = Task.Run(() => input.Read(new byte[3]));
        (await Task.WhenAny(waiting, Task.Delay(200))).Should().NotBe(waiting);
        input.Dispose();
        (await waiting.WaitAsync(TimeSpan.FromSeconds(5))).Should().Be(0);
    }
}
