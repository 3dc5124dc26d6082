using FluentAssertions;
using Xunit;

namespace EarCoach.Audio.Tests;

public sealed class SampleRingTests
{
    [Fact]
    public void Read_AfterWrites_KeepsTheOrderAroundTheEnd()
    {
        var ring = new SampleRing(4);
        float[] into = new float[4];
        ring.Write([1, 2, 3]);
        ring.Read(into.AsSpan(0, 2)).Should().Be(2);
        ring.Write([4, 5, 6]);

        var got = new List<float>();
        while (got.Count < 4)
        {
            got.AddRange(into.AsSpan(0, ring.Read(into)));
        }

        got.Should().Equal(3, 4, 5, 6);
        ring.LostSamples.Should().Be(0);
    }

    [Fact]
    public void Write_ReaderTooSlow_LosesWholeBlocksAndCountsThemAtTheirPlace()
    {
        var ring = new SampleRing(4);
        float[] into = new float[4];
        ring.Write([1, 2, 3]);
        ring.Write([4, 5]); // does not fit: lost
        ring.Write([6]);    // would fit, but lies behind the hole: lost too

        ring.Read(into).Should().Be(3);
        ring.LostSamples.Should().Be(0);
        ring.Write([7]);
        ring.Read(into).Should().Be(1);
        into[0].Should().Be(7);
        ring.LostSamples.Should().Be(3);
    }

    [Fact]
    public void Lose_IsCountedBeforeTheNextSamples()
    {
        var ring = new SampleRing(4);
        ring.Lose(480);
        ring.Write([1]);

        ring.Read(new float[4]).Should().Be(1);
        ring.LostSamples.Should().Be(480);
    }

    [Fact]
    public async Task Close_WakesAWaitingReader()
    {
        var ring = new SampleRing(4);
        Task<int> waiting = Task.Run(() => ring.Read(new float[4]));

        ring.Close();

        (await waiting.WaitAsync(TimeSpan.FromSeconds(10))).Should().Be(0);
    }
}
