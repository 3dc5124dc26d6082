using EarCoach.App.Web.Practice;
using EarCoach.Engine.Ports;
using FluentAssertions;
using Xunit;

namespace EarCoach.App.Tests;

public sealed class KeptSoundTests
{
    [Theory]
    [InlineData(null, 2_000_000_000L)]
    [InlineData("{}", 2_000_000_000L)]
    [InlineData("""{"keepMegabytes": 300}""", 300_000_000L)]
    [InlineData("""{"keepMegabytes": -1}""", 50_000_000L)]
    [InlineData("""{"keepMegabytes": "much"}""", 2_000_000_000L)]
    public void Tidy_KeepsWhatThePlayerAllows(string? settings, long bytes)
    {
        FakeStore store = new() { Settings = settings };

        new KeptSound(store, store).Tidy();

        store.Kept.Should().Be(bytes);
    }

    private sealed class FakeStore : IClipArchive, ISettingsStore
    {
        public string? Settings { get; init; }

        public long? Kept { get; private set; }

        public long TotalBytes() => 0;

        public int ForgetOldest(long keepBytes)
        {
            Kept = keepBytes;
            return 0;
        }

        public string? Read(string name) => name == KeptSound.PageSettings ? Settings : null;

        public void Write(string name, string? value) => throw new NotSupportedException();
    }
}
