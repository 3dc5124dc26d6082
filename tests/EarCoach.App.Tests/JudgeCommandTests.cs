using System.Text.Json;
using EarCoach.Audio;
using FluentAssertions;
using Xunit;

namespace EarCoach.App.Tests;

public sealed class JudgeCommandTests
{
    private const string Horn = "judge FIX/passages/horn-valley-call.mid REF/horn-valley-call.wav";

    // Expected: the truth that was written when the recording was made, reference-audio/horn-valley-call.json.
    [Fact]
    public async Task Judge_HornRecording_SaysWhatAPlayerUnderstands()
    {
        CommandRun run = await CommandRun.Of(Horn);

        run.ExitCode.Should().Be(0);
        run.Error.Should().BeEmpty();
        string[] lines = run.Output.Split('\n');
        lines[0].Should().Be("Valley call for horn in F: 12 notes, bars 1 to 3");
        lines[1].Should().Contain("25 cents").And.Contain("60 ms").And.Contain("76").And.Contain("40 ms");
        run.Output.Should().MatchRegex(@"\n  1    0:01\.0  clean\n")
            .And.MatchRegex(@"\n  2 .*missed +bar 2, first note \(written G5\): cracked, another pitch for \d+ ms; tolerance 40\n")
            .And.MatchRegex(@"\n  4 .*missed +bar 2, third note \(written E5\): wrong pitch, written G5 heard\n")
            .And.MatchRegex(@"\n  5 .*missed +bar 1, fourth note \(written E5\): flat by 4\d cents; tolerance 25\n")
            .And.EndWith("\n6 attempts: 3 clean, 3 missed. Best run of clean ones: 1.\n");
        run.Output.Should().NotContain("\u001b", "no colour where no terminal is");
    }

    [Fact]
    public async Task Judge_Json_HasTheAgreedFields()
    {
        CommandRun run = await CommandRun.Of(Horn + " --json");

        using JsonDocument document = JsonDocument.Parse(run.Output);
        JsonElement[] attempts = [.. document.RootElement.GetProperty("attempts").EnumerateArray()];
        attempts.Select(a => a.GetProperty("verdict").GetString()).Should().Equal("clean", "missed", "clean", "missed", "missed", "clean");
        foreach (JsonElement attempt in attempts)
        {
            attempt.EnumerateObject().Select(p => p.Name).Should().Contain(["start", "end", "verdict", "reason", "tempoBpm", "tuningCents", "notes", "extraNotes"]);
            attempt.GetProperty("start").GetDouble().Should().BeLessThan(attempt.GetProperty("end").GetDouble());
            attempt.GetProperty("notes").EnumerateArray().Select(n => n.GetProperty("index").GetInt32()).Should().Equal(Enumerable.Range(0, 12));
            attempt.GetProperty("notes")[0].EnumerateObject().Select(p => p.Name).Should()
                .Contain(["index", "midi", "onset", "offset", "heardMidi", "centsOff", "msOff", "faults"]);
        }

        attempts[4].GetProperty("notes")[3].GetProperty("faults")[0].GetString().Should().Be("flat");
        document.RootElement.GetProperty("summary").GetProperty("bestRun").GetInt32().Should().Be(1);
        document.RootElement.GetProperty("judgedBy").GetProperty("tempoBpm").GetDouble().Should().Be(76);
        document.RootElement.GetProperty("passage").GetProperty("instrument").GetString().Should().Be("horn-f");
    }

    [Fact]
    public async Task Judge_SameSoundThroughAPipe_GivesTheSameVerdicts()
    {
        using WavFileSource source = WavFileSource.Open(Path.Combine(CommandRun.Root, "reference-audio", "horn-valley-call.wav"));
        byte[] wav = await File.ReadAllBytesAsync(Path.Combine(CommandRun.Root, "reference-audio", "horn-valley-call.wav"));
        var raw = new MemoryStream(wav[44..]); // this file has the plain header of 44 bytes

        CommandRun piped = await CommandRun.Of($"judge FIX/passages/horn-valley-call.mid - --rate {source.SampleRateHz} --json", raw);
        CommandRun file = await CommandRun.Of(Horn + " --json");

        piped.ExitCode.Should().Be(0);
        piped.Output.Should().Be(file.Output);
    }

    [Fact]
    public async Task Judge_TimingOffAndCentsOff_NameNoSuchFault()
    {
        CommandRun run = await CommandRun.Of(Horn + " --timing off --cents off");

        run.Output.Should().Contain("timing not judged").And.Contain("the right semitone").And.NotContain("flat by");
    }

    [Fact]
    public async Task Judge_TimingRhythm_SaysSo_AndHasItsLimits()
    {
        CommandRun table = await CommandRun.Of(Horn + " --timing rhythm");
        table.Output.Should().Contain(
            "long notes at least 1.5 times as long as short ones, equal ones within 20 % or 60 ms, at a steady tempo within 15 % of quarter note = 76");

        CommandRun run = await CommandRun.Of(Horn + " --timing rhythm --json");
        using JsonDocument document = JsonDocument.Parse(run.Output);
        JsonElement judgedBy = document.RootElement.GetProperty("judgedBy");
        judgedBy.GetProperty("timing").GetString().Should().Be("rhythm");
        judgedBy.GetProperty("longRatio").GetDouble().Should().Be(1.5);
        judgedBy.GetProperty("evenShare").GetDouble().Should().Be(0.2);
    }

    [Fact]
    public async Task Judge_Level_SetsTheLimitsAndSingleOptionsOverride()
    {
        CommandRun run = await CommandRun.Of(Horn + " --json --level professional --crack-ms 55");

        using JsonDocument document = JsonDocument.Parse(run.Output);
        JsonElement by = document.RootElement.GetProperty("judgedBy");
        by.GetProperty("level").GetString().Should().Be("professional");
        by.GetProperty("cents").GetDouble().Should().Be(15);
        by.GetProperty("ms").GetDouble().Should().Be(50); // a fifth of an eighth at 76 is 79 ms, more than the bound of 50
        by.GetProperty("crackMs").GetDouble().Should().Be(55);
        by.GetProperty("tempoShare").GetDouble().Should().Be(0.03);
    }

    [Theory]
    [InlineData("one-sample.wav")]
    [InlineData("truncated.wav")]
    [InlineData("not-a-number.wav")]
    public async Task Judge_AlmostNoSound_FindsNoAttempt(string name)
    {
        CommandRun run = await CommandRun.Of($"judge FIX/passages/horn-valley-call.mid FIX/malformed-wav/{name}");

        run.ExitCode.Should().Be(0);
        run.Output.Should().Contain("No attempt was heard in 0.0 seconds of sound.");
    }
}
