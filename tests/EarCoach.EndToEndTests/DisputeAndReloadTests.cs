using EarCoach.EndToEndTests.Running;
using EarCoach.EndToEndTests.Sound;
using Microsoft.Playwright;
using Xunit;

namespace EarCoach.EndToEndTests;

/// <summary>What a player can do in the middle: disagree, pause, reload the page.</summary>
public sealed class DisputeAndReloadTests
{
    [Fact]
    public async Task Dispute_MakesAMissNotCounted_AndGivesTheCountBack_NeverClean()
    {
        using TemporaryFolder data = new();
        ShortCall.AddTo(data.Path);
        Recording recording = new Recording(44_100).Play(ShortCall.Clean).Play(ShortCall.Missed, silenceAfterSeconds: 4).Play(ShortCall.Clean);
        string wav = recording.Write(data.Path, "dispute.wav");
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(wav);
        PracticePage practice = await PracticePage.OpenAsync(browser, program.Address);
        await practice.ChooseAsync(ShortCall.Title, "proof", "amateur", ("sets", "1"), ("cleanInARow", "3"));
        await practice.StartAsync();
        await practice.WaitForVerdictsAsync(2, 20);
        Assert.Equal("missed", (await practice.ShownAsync())[^1].Verdict);
        Assert.Equal(0, (await practice.ShownAsync())[^1].Count);

        await practice.Page.Keyboard.PressAsync("PageUp"); // a page-turn pedal sends this key
        IReadOnlyList<ShownVerdict> shown = await practice.WaitForVerdictsAsync(3, 5);
        Assert.Equal("not-counted", shown[^1].Verdict);
        Assert.Equal(1, shown[^1].Count);

        shown = await practice.WaitForVerdictsAsync(4, 20);
        Assert.Equal("clean", shown[^1].Verdict);
        Assert.Equal(2, shown[^1].Count);
        Assert.Empty(browser.Problems);
    }

    [Fact]
    public async Task Reload_InTheMiddle_GoesOnByItself_WithItsCount()
    {
        using TemporaryFolder data = new();
        ShortCall.AddTo(data.Path);
        Recording recording = new Recording(44_100).Play(ShortCall.Clean).Play(ShortCall.Clean);
        string wav = recording.Write(data.Path, "reload.wav");
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(wav);
        PracticePage practice = await PracticePage.OpenAsync(browser, program.Address);
        await practice.ChooseAsync(ShortCall.Title, "proof", "amateur", ("sets", "1"), ("cleanInARow", "4"));
        await practice.StartAsync();
        await practice.WaitForVerdictsAsync(2, 20);

        // The microphone of the new page hears the recording from its beginning again.
        await practice.Page.ReloadAsync();
        await Assertions.Expect(practice.Page.Locator("#count")).ToHaveAttributeAsync("data-count", "2");
        await practice.WaitForVerdictsAsync(1 + 2, 20); // the last verdict is shown again, then two more
        IReadOnlyList<ShownVerdict> shown = await practice.ShownAsync();
        Assert.Equal([2, 3, 4], shown.Select(verdict => verdict.Number));
        Assert.All(shown, verdict => Assert.Equal("clean", verdict.Verdict));
        await Assertions.Expect(practice.Page.Locator("#state-word")).ToHaveTextAsync("done");
        Assert.Empty(browser.Problems);
    }

    [Fact]
    public async Task Pause_ByKey_CountsNothing_UntilItIsPressedAgain()
    {
        using TemporaryFolder data = new();
        ShortCall.AddTo(data.Path);
        Recording recording = new Recording(44_100).Play(ShortCall.Clean, silenceAfterSeconds: 3).Play(ShortCall.Clean, silenceAfterSeconds: 3).Play(ShortCall.Clean);
        string wav = recording.Write(data.Path, "pause.wav");
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(wav);
        PracticePage practice = await PracticePage.OpenAsync(browser, program.Address);
        await practice.ChooseAsync(ShortCall.Title, "proof", "amateur", ("sets", "1"), ("cleanInARow", "3"));
        await practice.StartAsync();
        await practice.WaitForVerdictsAsync(1, 20);
        await practice.Page.Keyboard.PressAsync("Space");
        await Assertions.Expect(practice.Page.Locator("#state-word")).ToHaveTextAsync("paused");
        await practice.Page.WaitForTimeoutAsync(5500); // the second attempt passes
        await practice.Page.Keyboard.PressAsync("Space");
        IReadOnlyList<ShownVerdict> shown = await practice.WaitForVerdictsAsync(2, 20);
        Assert.Equal(2, shown[^1].Count);
        Assert.Empty(browser.Problems);
    }
}
