using System.Text.Json;
using EarCoach.EndToEndTests.Running;
using EarCoach.EndToEndTests.Sound;
using Microsoft.Playwright;
using Xunit;
using Xunit.Abstractions;

namespace EarCoach.EndToEndTests;

/// <summary>A whole proof from a horn recording, with a miss in a set: the count, the verdicts against those of `judge`, and how long they take.</summary>
public sealed class ProofTests(ITestOutputHelper output)
{
    [Fact]
    public async Task Proof_WithAMissInASet_KeepsFinishedSets_AndAgreesWithJudge_InTime()
    {
        using TemporaryFolder data = new();
        ReferenceTake take = ReferenceTake.Read("horn-valley-call");
        Recording recording = new(take.SampleRateHz);

        // Clean, cracked (empties the set), clean, clean (first seal), wrong note (leaves the seal), clean, clean (second seal).
        int[] order = [0, 1, 2, 5, 3, 0, 2];
        foreach (int i in order)
        {
            recording.Cut(take.Samples, take.Attempts[i].StartSeconds, take.Attempts[i].EndSeconds);
        }

        string wav = recording.Write(data.Path, "proof.wav");
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(wav);
        PracticePage practice = await PracticePage.OpenAsync(browser, program.Address);
        await practice.ChooseAsync("Valley call", "proof", "advanced", ("sets", "2"), ("cleanInARow", "2"), ("cents", "30"), ("onsetMs", "70"));
        await practice.StartAsync();
        IReadOnlyList<ShownVerdict> shown = await practice.WaitForVerdictsAsync(order.Length, recording.Seconds + 10);

        Assert.Equal(order.Select(i => take.Attempts[i].Verdict), shown.Select(verdict => verdict.Verdict));
        Assert.Equal([1, 0, 1, 0, 0, 1, 0], shown.Select(verdict => verdict.Count));
        Assert.Equal([0, 0, 0, 1, 1, 1, 2], shown.Select(verdict => verdict.Seals));
        await Assertions.Expect(practice.Page.Locator("#state-word")).ToHaveTextAsync("done");

        JsonElement[] attempts = await SummaryAsync(practice.Page);
        IReadOnlyList<string> judged = await JudgeRun.VerdictsAsync(
            take.MidiPath, wav, "--level", "advanced", "--cents", "30", "--ms", "70", "--instrument", "horn-f");
        Assert.Equal(judged, attempts.Select(JudgeRun.Short));

        Spread verdicts = VerdictTimes(shown, attempts, order, take, recording);
        Spread live = await LiveTimesAsync(practice, attempts, order, take, recording);
        output.WriteLine($"End of the last note to the verdict on the page: {verdicts}");
        output.WriteLine($"Onset of the first note to the live note on the page: {live}");
        Spread transforms = MachineSpeed.TransformTimes();
        double slowness = MachineSpeed.SlownessOf(transforms);
        output.WriteLine($"The machine takes {slowness:0.00} times as long as one that is not slow (a transform: {transforms}).");
        Assert.True(
            verdicts.At(0.5) <= 400 * slowness && verdicts.At(0.95) <= 600 * slowness,
            $"The verdict has to be shown within 400 ms (median) and 600 ms (p95) of the last note's end, times {slowness:0.00} for this machine: {verdicts}.");
        Assert.Empty(browser.Problems);
        Assert.NotEmpty(browser.Requests);
        Assert.Empty(browser.RequestsElsewhere(program.Address));
    }

    private static async Task<JsonElement[]> SummaryAsync(IPage page)
    {
        string summary = await page.EvaluateAsync<string>("async () => await (await fetch('/api/session/summary')).text()");
        using JsonDocument document = JsonDocument.Parse(summary);
        return [.. document.RootElement.GetProperty("attempts").EnumerateArray().Select(attempt => attempt.Clone())];
    }

    /// <summary>By how much the session's clock is ahead of the file, found from the onsets of one attempt: the truth is in the file.</summary>
    private static double ClockOffset(JsonElement attempt, ReferenceAttempt truth, double placeInFile)
    {
        List<double> differences = [.. attempt.GetProperty("notes").EnumerateArray()
            .Where(note => note.TryGetProperty("onset", out _) && truth.Onsets[note.GetProperty("index").GetInt32()] is not null)
            .Select(note => note.GetProperty("onset").GetDouble() - (placeInFile + truth.Onsets[note.GetProperty("index").GetInt32()]!.Value - truth.StartSeconds))
            .Order()];
        return differences[differences.Count / 2];
    }

    private static Spread VerdictTimes(IReadOnlyList<ShownVerdict> shown, JsonElement[] attempts, int[] order, ReferenceTake take, Recording recording) =>
        new(shown.Select((verdict, i) =>
        {
            double end = recording.EndsSeconds[i] + ClockOffset(attempts[i], take.Attempts[order[i]], recording.StartsSeconds[i]);
            double endAtMs = verdict.CapturedAtMs!.Value - ((verdict.CapturedSeconds!.Value - end) * 1000);
            return verdict.AtMs - endAtMs;
        }));

    private static async Task<Spread> LiveTimesAsync(PracticePage practice, JsonElement[] attempts, int[] order, ReferenceTake take, Recording recording)
    {
        IReadOnlyList<ShownNote> notes = await practice.NotesAsync();
        List<double> times = [];
        for (int i = 0; i < attempts.Length; i++)
        {
            double onset = recording.StartsSeconds[i] + ClockOffset(attempts[i], take.Attempts[order[i]], recording.StartsSeconds[i]);
            ShownNote? first = notes.FirstOrDefault(note => note.Note != "–" && note.CapturedSeconds is { } captured && captured > onset - 0.5 && MsAfter(note, onset) > 0);
            if (first is not null)
            {
                times.Add(MsAfter(first, onset));
            }
        }

        return new Spread(times);
    }

    private static double MsAfter(ShownNote note, double seconds) =>
        note.AtMs - (note.CapturedAtMs!.Value - ((note.CapturedSeconds!.Value - seconds) * 1000));
}
