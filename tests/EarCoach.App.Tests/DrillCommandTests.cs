using System.Text.Json;
using EarCoach.App.Commands;
using FluentAssertions;
using Xunit;

namespace EarCoach.App.Tests;

public sealed class DrillCommandTests : IDisposable
{
    private const string Limits = "--cents 30 --ms 70";
    private readonly string _data = Directory.CreateTempSubdirectory("earcoach-test-").FullName;

    private string Horn => $"drill FIX/passages/horn-valley-call.mid --source REF/horn-valley-call.wav --data {_data} {Limits}";

    public void Dispose() => Directory.Delete(_data, recursive: true);

    // The truth of the recording, reference-audio/horn-valley-call.json: clean, cracked, clean, wrong note, flat, clean. Two clean finish two sets of one.
    [Fact]
    public async Task Drill_ProofOverARecording_SaysVerdictsAndCounts()
    {
        CommandRun run = await CommandRun.Of($"{Horn} --kind proof --sets 3 --clean 1");

        run.ExitCode.Should().Be(0);
        run.Error.Should().BeEmpty();
        run.Output.Should().StartWith("Valley call for horn in F: 12 notes\nProof: 0 of 1 clean running; set 1 of 3, 0 seals.\n")
            .And.Contain("\nPlay Valley call: the whole passage, quarter note = 76.\n")
            .And.MatchRegex(@"\n  1    0:01\.0  clean\n +-> 0 of 1 clean running; set 2 of 3, 1 seal\n")
            .And.MatchRegex(@"\n  2 .*missed +bar 2, first note \(written G5\): cracked, another pitch for \d+ ms; tolerance 40\n")
            .And.EndWith("\n6 attempts: 3 clean, 3 missed. Done: 3 of 3 seals.\n");
    }

    [Theory]
    [InlineData("horn-valley-call")]
    [InlineData("flute-ferry-dance")]
    [InlineData("clarinet-mill-wheel")]
    public async Task Drill_AnyRecording_GivesTheVerdictsOfJudge_NoteByNote(string name)
    {
        CommandRun judged = await CommandRun.Of($"judge FIX/passages/{name}.mid REF/{name}.wav --json {Limits}");
        CommandRun drilled = await CommandRun.Of($"drill FIX/passages/{name}.mid --source REF/{name}.wav --kind proof --sets 9 --clean 9 --json --data {_data} {Limits}");

        drilled.ExitCode.Should().Be(0);
        using JsonDocument expected = JsonDocument.Parse(judged.Output);
        using JsonDocument document = JsonDocument.Parse(drilled.Output);
        string[] attempts = [.. document.RootElement.GetProperty("attempts").EnumerateArray().Select(attempt => attempt.GetProperty("attempt").GetRawText())];
        attempts.Should().NotBeEmpty().And.Equal(expected.RootElement.GetProperty("attempts").EnumerateArray().Select(attempt => attempt.GetRawText()));
    }

    [Fact]
    public async Task Drill_ColdTake_IsTakenOnce()
    {
        CommandRun run = await CommandRun.Of($"{Horn} --kind cold");

        run.Output.Should().EndWith("\n1 attempt: 1 clean, 0 missed. Done: the take is recorded.\n");
    }

    // The recording is of the passage as written: in a rhythm it is a miss.
    [Theory]
    [InlineData("", "long notes at least 1.5 times as long as short ones")]
    [InlineData(" --timing strict", "starts within 70 ms of quarter note = 76")]
    [InlineData(" --timing fitted", "starts within 70 ms of a steady tempo")]
    public async Task Drill_Rhythm_IsJudgedByLongAndShort_UnlessMillisecondsAreAskedFor(string timing, string said)
    {
        CommandRun run = await CommandRun.Of($"{Horn} --kind rhythm --variants 2a --tempi 1{timing}");

        run.ExitCode.Should().Be(0);
        run.Output.Should().Contain(said).And.EndWith("6 attempts: 0 clean, 6 missed. 0 of 1 clean running; variant 1 of 2.\n");
    }

    [Fact]
    public async Task Drill_Rotation_TakesPassagesInTurn()
    {
        CommandRun run = await CommandRun.Of(
            $"drill FIX/passages/horn-valley-call.mid FIX/passages/trumpet-gate-signal.mid --source REF/horn-valley-call.wav --kind rotation --attempts 2 --rounds 1 --json --data {_data} {Limits}");

        using JsonDocument document = JsonDocument.Parse(run.Output);
        document.RootElement.GetProperty("passages").GetArrayLength().Should().Be(2);
        document.RootElement.GetProperty("attempts").EnumerateArray().Take(2)
            .Select(attempt => (attempt.GetProperty("task").GetProperty("passage").GetInt32(), attempt.GetProperty("attempt").GetProperty("verdict").GetString()))
            .Should().Equal((0, "clean"), (0, "missed"));
        document.RootElement.GetProperty("attempts")[2].GetProperty("task").GetProperty("passage").GetInt32().Should().Be(1);
    }

    // The lowest tempo of this ladder is 67 % of 114, 76 quarter notes a minute: the tempo of the recording (reference-audio/README.md).
    [Fact]
    public async Task Drill_Ladder_ClimbsWithCleanTakes()
    {
        CommandRun run = await CommandRun.Of($"{Horn} --kind ladder --bpm 114 --start 67 --clean 1 --drop-misses 0 --json");

        using JsonDocument document = JsonDocument.Parse(run.Output);
        JsonElement first = document.RootElement.GetProperty("attempts")[0];
        first.GetProperty("task").GetProperty("tempoBpm").GetDouble().Should().BeApproximately(76.4, 0.5);
        first.GetProperty("attempt").GetProperty("verdict").GetString().Should().Be("clean");
        first.GetProperty("count").GetProperty("stage").GetInt32().Should().Be(1);
    }

    [Fact]
    public async Task Drill_Interrupted_LosesNothing_AndGoesOnWithItsCount()
    {
        byte[] wav = await File.ReadAllBytesAsync(Path.Combine(CommandRun.Root, "reference-audio", "horn-valley-call.wav"));
        int rate = BitConverter.ToInt32(wav, 24);
        int bytesASecond = rate * 2; // this file has the plain header of 44 bytes, one channel, 16 bits
        using var stop = new CancellationTokenSource();

        // The first attempt, and the beginning of the second, in which the player presses Ctrl+C.
        var cut = new EndlessPipe(wav.AsMemory(44, 14 * bytesASecond), stop.Cancel);
        CommandRun first = await CommandRun.Of(() => cut, $"drill FIX/passages/horn-valley-call.mid --source - --rate {rate} --sets 1 --clean 2 --data {_data} {Limits}", stop: stop.Token);
        CommandRun second = await CommandRun.Of($"drill --go-on --source REF/horn-valley-call.wav --data {_data}");

        first.ExitCode.Should().Be(0);
        first.Output.Should().Contain("\n1 attempt: 1 clean, 0 missed. 1 of 2 clean running; set 1 of 1, 0 seals.\n").And.EndWith("go on with: earcoach drill --go-on\n");
        second.Output.Should().Contain("Proof: 1 of 2 clean running; set 1 of 1, 0 seals.")
            .And.EndWith("\n2 attempts: 2 clean, 0 missed. Done: 1 of 1 seals.\n");
    }

    [Fact]
    public async Task Drill_DisputedByKey_IsNotCounted()
    {
        byte[] wav = await File.ReadAllBytesAsync(Path.Combine(CommandRun.Root, "reference-audio", "horn-valley-call.wav"));
        int rate = BitConverter.ToInt32(wav, 24);
        using var stop = new CancellationTokenSource();
        var pressed = new TaskCompletionSource();
        var cut = new EndlessPipe(wav.AsMemory(44, 23 * rate * 2), () => pressed.Task.ContinueWith(_ => stop.Cancel(), TaskScheduler.Default)); // clean, cracked
        int asked = 0;
        char? Key()
        {
            // The sound has been heard once the pipe is empty; then one press, and time to obey it.
            if (cut.IsEmpty && ++asked == 2)
            {
                return 'd';
            }

            if (asked == 6)
            {
                pressed.TrySetResult();
            }

            return null;
        }

        CommandRun run = await CommandRun.Of(() => cut, $"drill FIX/passages/horn-valley-call.mid --source - --rate {rate} --sets 1 --clean 3 --data {_data} {Limits}", Key, stop.Token);

        run.Output.Should().Contain("Disputed: not counted. -> 1 of 3 clean running;")
            .And.Contain("\n2 attempts: 1 clean, 0 missed, 1 not counted. 1 of 3 clean running");
    }

    [Theory]
    [InlineData("drill", ExitCode.WrongUsage, "Give the PASSAGE")]
    [InlineData("drill FIX/passages/horn-valley-call.mid --go-on", ExitCode.WrongUsage, "either a PASSAGE or --go-on")]
    [InlineData("drill FIX/passages/horn-valley-call.mid --kind warm", ExitCode.WrongUsage, "--kind is 'warm'; it must be one of: chain, rhythm, ladder, proof, cold, rotation, trouble.")]
    [InlineData("drill FIX/passages/horn-valley-call.mid --source FIX/malformed-wav/one-sample.wav --kind cold --sets 3", ExitCode.WrongUsage, "--sets is no number of the drill 'cold-take'; it has none.")]
    [InlineData("drill FIX/passages/horn-valley-call.mid --source FIX/malformed-wav/one-sample.wav --kind trouble --spots a", ExitCode.WrongUsage, "--spots names 'a'")]
    [InlineData("drill FIX/passages/horn-valley-call.mid --sets 0", ExitCode.WrongUsage, "--sets is '0'; it must be a number from 1 to 30.")]
    [InlineData("drill FIX/passages/horn-valley-call.mid FIX/passages/horn-valley-call.mid --source FIX/malformed-wav/one-sample.wav", ExitCode.WrongUsage, "--kind rotation")]
    [InlineData("drill FIX/passages/horn-valley-call.mid --source FIX/malformed-wav/one-sample.wav --kind rotation", ExitCode.UnusableInput, "A rotation needs at least two passages")]
    [InlineData("drill FIX/passages/horn-valley-call.mid --source FIX/malformed-wav/one-sample.wav --kind chain --from 13", ExitCode.UnusableInput, "this passage has notes 0 to 11")]
    [InlineData("drill FIX/passages/horn-valley-call.mid --source FIX/malformed-wav/one-sample.wav --kind trouble", ExitCode.UnusableInput, "name notes: --spots 3,7")]
    [InlineData("drill FIX/passages/horn-valley-call.mid --source FIX/malformed-wav/one-sample.wav --kind rhythm --variants 9z", ExitCode.UnusableInput, "There is no rhythm variant '9z'")]
    [InlineData("drill FIX/passages/horn-valley-call.mid --source - --rate 48000", ExitCode.UnusableInput, "not one sample")]
    [InlineData("drill FIX/passages/horn-valley-call.mid --source no-such.wav", ExitCode.UnusableInput, "no-such.wav")]
    [InlineData("drill --go-on --source FIX/malformed-wav/one-sample.wav", ExitCode.UnusableInput, "No drill was stopped in the middle")]
    public async Task WrongInput_IsOneSentenceWithItsCode(string command, int code, string named)
    {
        CommandRun run = await CommandRun.Of($"{command} --data {_data}");

        run.ExitCode.Should().Be(code);
        run.Error.Should().Contain(named);
    }
}
