using EarCoach.App.Commands;
using FluentAssertions;
using Xunit;

namespace EarCoach.App.Tests;

public sealed class WrongInputTests
{
    public static TheoryData<string> BrokenWavs => [.. Names("malformed-wav", "*.wav")];

    public static TheoryData<string> BrokenMidis => [.. Names("malformed-midi", "*.mid")];

    [Theory]
    [MemberData(nameof(BrokenWavs))]
    public async Task Judge_AnyOddWav_GivesVerdictsOrOneSentence(string name) =>
        Check(await CommandRun.Of($"judge FIX/passages/horn-valley-call.mid FIX/malformed-wav/{name}"));

    [Theory]
    [MemberData(nameof(BrokenWavs))]
    public async Task Trace_AnyOddWav_GivesLinesOrOneSentence(string name) =>
        Check(await CommandRun.Of($"trace FIX/malformed-wav/{name} --csv"));

    [Theory]
    [MemberData(nameof(BrokenMidis))]
    public async Task Judge_AnyOddMidi_GivesVerdictsOrOneSentence(string name) =>
        Check(await CommandRun.Of($"judge FIX/malformed-midi/{name} FIX/malformed-wav/one-sample.wav"));

    [Theory]
    [InlineData("judge no-such.mid REF/horn-valley-call.wav", "no-such.mid")]
    [InlineData("judge FIX/passages/horn-valley-call.mid no-such.wav", "no-such.wav")]
    [InlineData("judge FIX/passages FIX/malformed-wav/one-sample.wav", "passages")]
    [InlineData("judge FIX/passages/horn-valley-call.mid FIX/malformed-wav", "malformed-wav")]
    [InlineData("judge REF/horn-valley-call.wav FIX/passages/horn-valley-call.mid", "The passage comes first")]
    [InlineData("judge FIX/passages/horn-valley-call.mid FIX/passages/horn-valley-call.mid", "a MIDI file")]
    [InlineData("judge FIX/passages/horn-valley-call.mid - --rate 48000", "not one sample")]
    [InlineData("judge FIX/passages/horn-valley-call.mid REF/horn-valley-call.wav --track 7", "track 7")]
    public async Task UnusableInput_IsCode1AndNamesTheTrouble(string command, string named)
    {
        CommandRun run = await CommandRun.Of(command);

        run.ExitCode.Should().Be(ExitCode.UnusableInput);
        run.Error.Should().Contain(named);
        Check(run);
    }

    [Theory]
    [InlineData("judge", "Required argument missing")]
    [InlineData("judge FIX/passages/horn-valley-call.mid", "Required argument missing")]
    [InlineData("jugde a b", "jugde")]
    [InlineData("judge a b --timing slow", "--timing is 'slow'; it must be one of: off, fitted, strict, rhythm.")]
    [InlineData("judge a b --level expert", "--level is 'expert'; it must be one of: beginner, amateur, advanced, professional.")]
    [InlineData("judge a b --cents 0", "--cents is '0'; it must be a number from 1 to 100.")]
    [InlineData("judge a b --cents many", "--cents is 'many'; it must be a number from 1 to 100.")]
    [InlineData("judge a b --ms NaN", "--ms is 'NaN'; it must be a number from 1 to 1000.")]
    [InlineData("judge a b --bpm -3", "--bpm is '-3'; it must be a number from 5 to 600.")]
    [InlineData("judge a b --a4 44", "--a4 is '44'; it must be a number from 380 to 500.")]
    [InlineData("judge a b --channel 17", "--channel is '17'; it must be a number from 1 to 16.")]
    [InlineData("judge a - --rate 8000", "--rate is '8000'; it must be a number from 16000 to 192000.")]
    [InlineData("judge a b --format mp3", "mp3")]
    [InlineData("judge FIX/passages/horn-valley-call.mid -", "--rate 48000")]
    [InlineData("judge FIX/passages/horn-valley-call.mid b --instrument kazoo", "--instrument is 'kazoo'")]
    [InlineData("trace", "Required argument missing")]
    public async Task WrongUsage_IsCode2AndSaysWhatToWrite(string command, string said)
    {
        CommandRun run = await CommandRun.Of(command);

        run.ExitCode.Should().Be(ExitCode.WrongUsage);
        run.Error.Should().Contain(said);
        Check(run);
    }

    [Fact]
    public async Task UnforeseenException_IsOneLineAndCode1()
    {
        CommandRun run = await CommandRun.Of(() => throw new NotImplementedException("a\nb"), "judge FIX/passages/horn-valley-call.mid - --rate 48000");

        run.ExitCode.Should().Be(ExitCode.UnusableInput);
        run.Error.TrimEnd().Should().Contain("NotImplementedException").And.NotContain("\n");
    }

    [Fact]
    public async Task NoCommand_StartsThePage() => (await CommandRun.Of(string.Empty)).ExitCode.Should().Be(42);

    [Theory]
    [InlineData("--version", ".")]
    [InlineData("--help", "judge")]
    [InlineData("judge --help", "--timing")]
    public async Task HelpAndVersion_AreAnswered(string command, string said)
    {
        CommandRun run = await CommandRun.Of(command);

        run.ExitCode.Should().Be(ExitCode.Done);
        run.Output.Should().Contain(said);
    }

    private static void Check(CommandRun run)
    {
        run.ExitCode.Should().BeOneOf(ExitCode.Done, ExitCode.UnusableInput, ExitCode.WrongUsage);
        run.Error.Should().NotContain("   at ", "nobody wants to read a stack trace").And.NotContain("did not expect");
        if (run.ExitCode != ExitCode.Done)
        {
            run.Error.Should().NotBeEmpty();
        }
    }

    private static IEnumerable<string> Names(string folder, string pattern) =>
        Directory.GetFiles(Path.Combine(CommandRun.Root, "fixtures", folder), pattern).Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal);
}
