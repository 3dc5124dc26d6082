using FluentAssertions;
using Xunit;

namespace EarCoach.Audio.Tests;

public sealed class RecorderProcessSourceTests
{
    [Fact]
    public void Open_NoProgramInstalled_SaysWhatToInstall()
    {
        Action open = () => RecorderProcessSource.Open(48_000, [("earcoach-no-such-recorder", [])]).Dispose();

        open.Should().Throw<AudioException>().Where(e => e.Failure == AudioFailure.NoRecorder && e.Message.Contains("pulseaudio-utils"));
    }

    [Fact]
    public void Read_RecorderThatWritesTwoSamples_GivesThem()
    {
        using RecorderProcessSource source = RecorderProcessSource.Open(48_000, [("earcoach-no-such-recorder", []), ("printf", [@"\000\100\000\300"])]);
        float[] block = new float[8];

        source.Read(block).Should().Be(2);
        block[..2].Should().Equal(0.5f, -0.5f);
        source.Read(block).Should().Be(0);
    }

    [Fact]
    public void Read_RecorderThatFails_SaysWhatItSaid()
    {
        using RecorderProcessSource source = RecorderProcessSource.Open(48_000, [("sh", ["-c", "echo 'no such device' >&2; exit 3"])]);

        Action read = () => source.Read(new float[8]);

        read.Should().Throw<AudioException>().Where(e =>
            e.Failure == AudioFailure.CaptureFailed && e.Message.Contains("no such device") && e.Message.Contains("code 3"));
    }

    [Fact]
    public async Task Dispose_EndsAReadThatWaits()
    {
        RecorderProcessSource source = RecorderProcessSource.Open(48_000, [("sleep", ["60"])]);
        Task<int> waiting = Task.Run(() => source.Read(new float[8]));
        await Task.Delay(100);

        source.Dispose();

        (await waiting.WaitAsync(TimeSpan.FromSeconds(10))).Should().Be(0);
    }
}
