using EarCoach.EndToEndTests.Running;
using EarCoach.EndToEndTests.Sound;
using Microsoft.Playwright;
using Xunit;

namespace EarCoach.EndToEndTests;

/// <summary>A whole chain, played into the browser's microphone.</summary>
public sealed class ChainTests
{
    [Fact]
    public async Task Chain_EachLengthCleanOnceWithOneMiss_IsDone()
    {
        using TemporaryFolder data = new();
        ReferenceTake take = ReferenceTake.Read("flute-ferry-dance");
        ReferenceAttempt clean = take.Attempts[0];
        Recording recording = new(take.SampleRateHz);

        // By bar: four lengths. The second length is played with the wrong last note first (the passage's first note alone is none of its notes).
        int[] lastNoteOfLength = [3, 8, 12, 13];
        recording.Cut(take.Samples, clean.StartSeconds, clean.Offsets[lastNoteOfLength[0]]!.Value, tailSeconds: 0.04);
        recording.Cut(take.Samples, clean.StartSeconds, clean.Offsets[lastNoteOfLength[0]]!.Value, tailSeconds: 0.04);
        foreach (int last in lastNoteOfLength[1..])
        {
            recording.Cut(take.Samples, clean.StartSeconds, clean.Offsets[last]!.Value, tailSeconds: 0.04);
        }

        string wav = recording.Write(data.Path, "chain.wav");
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(wav);
        PracticePage practice = await PracticePage.OpenAsync(browser, program.Address);
        await practice.ChooseAsync("Ferry dance", "chain", "advanced", ("unit", "bar"), ("cleanInARow", "1"), ("cents", "30"));
        await practice.StartAsync();
        IReadOnlyList<ShownVerdict> shown = await practice.WaitForVerdictsAsync(5, recording.Seconds + 10);

        Assert.Equal(["clean", "missed", "clean", "clean", "clean"], shown.Select(verdict => verdict.Verdict));
        Assert.Equal([1, 1, 2, 3, 4], shown.Select(verdict => verdict.Stage));
        await Assertions.Expect(practice.Page.Locator("#state-word")).ToHaveTextAsync("done");
        Assert.Empty(browser.Problems);
        Assert.NotEmpty(browser.Requests);
        Assert.Empty(browser.RequestsElsewhere(program.Address));
    }
}
