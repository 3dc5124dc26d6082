using System.Globalization;
using EarCoach.Audio;
using FluentAssertions;
using Xunit;

namespace EarCoach.App.Tests;

public sealed class TraceCommandTests
{
    // A sine of 441 Hz at half of full scale: its level is 20 log10(0.5 / sqrt 2) = -9.03 dB.
    [Fact]
    public async Task Trace_Sine_GivesItsPitchAndLevel()
    {
        string path = Path.Combine(Path.GetTempPath(), $"earcoach-{Guid.NewGuid():N}.wav");
        try
        {
            float[] samples = [.. Enumerable.Range(0, 48_000).Select(i => 0.5f * MathF.Sin(2 * MathF.PI * 441 * i / 48_000))];
            WavClipWriter.Write(path, samples, 48_000);

            CommandRun run = await CommandRun.Of($"trace {path} --csv");

            run.ExitCode.Should().Be(0);
            string[] lines = run.Output.TrimEnd().Split('\n');
            lines[0].Should().Be("time_s,f0_hz,voiced,level_dbfs");
            double[][] rows = [.. lines.Skip(1).Select(line => line.Split(',').Select(v => double.Parse(v, CultureInfo.InvariantCulture)).ToArray())];
            rows.Length.Should().BeGreaterThan(90);
            rows.Select(r => r[0]).Should().BeInAscendingOrder();
            double[][] steady = [.. rows.Where(r => r[0] is > 0.2 and < 0.8)];
            steady.Should().OnlyContain(r => r[2] == 1 && Math.Abs(1200 * Math.Log2(r[1] / 441)) < 2 && Math.Abs(r[3] + 9.03) < 0.5);
        }
        finally
        {
            File.Delete(path);
        }
    }
}
