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
        double[][] rows = await Trace("--csv", "time_s,f0_hz,voiced,level_dbfs");

        rows.Length.Should().Be(200); // two seconds, a line every 10 ms
        rows.Select(r => r[0]).Should().BeInAscendingOrder();
        double[][] steady = [.. rows.Where(r => r[0] is > 0.7 and < 1.3)];
        steady.Should().HaveCountGreaterThan(50).And.OnlyContain(r => r[2] == 1 && Math.Abs(1200 * Math.Log2(r[1] / 441)) < 1 && Math.Abs(r[3] + 9.03) < 0.1);
        rows.Where(r => r[0] < 0.4).Should().OnlyContain(r => r[1] == 0 && r[2] == 0);
    }

    [Fact]
    public async Task Trace_HopOf5Ms_GivesTwiceTheLines() => (await Trace("--hop 5", "time_s,f0_hz,voiced,level_dbfs")).Should().HaveCount(400);

    // 441 Hz is 1200 log2(441 / 440) = 3.93 cents above A4, MIDI 69. It sounds from 0.5 to 1.5 s.
    [Fact]
    public async Task TraceNotes_Sine_IsOneNote()
    {
        double[] note = (await Trace("--notes", "onset_s,offset_s,midi,cents,level_dbfs,slurred")).Should().ContainSingle().Subject;

        note[0].Should().BeApproximately(0.5, 0.02);
        note[1].Should().BeApproximately(1.5, 0.05);
        note[2].Should().Be(69);
        note[3].Should().BeApproximately(3.93, 0.3);
        note[4].Should().BeApproximately(-9.03, 0.2);
        note[5].Should().Be(0);
    }

    [Theory]
    [InlineData("bb-bass", 0)] // its ear ends at MIDI 62, 440 * 2^((62 - 69) / 12) = 294 Hz
    [InlineData("trumpet", 1)]
    public async Task Trace_Instrument_LooksWithinItsRangeOnly(string instrument, int heard)
    {
        double[][] rows = await Trace("--instrument " + instrument, "time_s,f0_hz,voiced,level_dbfs");
        rows.Where(r => r[0] is > 0.7 and < 1.3).Should().OnlyContain(r => (Math.Abs(r[1] - 441) < 2) == (heard == 1));
    }

    [Fact]
    public async Task Trace_UnknownInstrument_IsWrongUsage()
    {
        CommandRun run = await CommandRun.Of("trace REF/horn-valley-call.wav --instrument kazoophone");
        run.ExitCode.Should().Be(2);
        run.Error.Should().Contain("kazoophone");
    }

    /// <summary>A second of a sine of 441 Hz with half a second of silence on both sides, traced; the rows below the heading.</summary>
    private static async Task<double[][]> Trace(string options, string heading)
    {
        string path = Path.Combine(Path.GetTempPath(), $"earcoach-{Guid.NewGuid():N}.wav");
        try
        {
            float[] samples = [.. Enumerable.Range(0, 96_000).Select(i => i is >= 24_000 and < 72_000 ? 0.5f * MathF.Sin((float)(2 * Math.PI * (441.0 * i / 48_000 % 1))) : 0f)];
            WavClipWriter.Write(path, samples, 48_000);
            CommandRun run = await CommandRun.Of($"trace {path} {options}");
            run.ExitCode.Should().Be(0);
            string[] lines = run.Output.TrimEnd().Split('\n');
            lines[0].Should().Be(heading);
            return [.. lines.Skip(1).Select(line => line.Split(',').Select(v => double.Parse(v, CultureInfo.InvariantCulture)).ToArray())];
        }
        finally
        {
            File.Delete(path);
        }
    }
}
