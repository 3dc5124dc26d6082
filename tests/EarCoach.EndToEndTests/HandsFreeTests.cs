using EarCoach.EndToEndTests.Running;
using EarCoach.EndToEndTests.Sound;
using Microsoft.Playwright;
using Xunit;

namespace EarCoach.EndToEndTests;

/// <summary>What happens around the attempts while the hands are on the instrument: beat, cues, rests, lost sound; and what is heard afterwards.</summary>
public sealed class HandsFreeTests
{
    // Writes down every tone that the page sounds, and every beat that it lights.
    private const string Watcher = """
        window.tones = [];
        window.OscillatorNode = class extends OscillatorNode {
          constructor(context, options) { super(context, options); window.tones.push(options.frequency); }
        };
        window.beats = [];
        addEventListener("DOMContentLoaded", () => new MutationObserver(changes => changes.forEach(change => {
          if (change.target.classList?.contains("now")) window.beats.push(change.target.textContent);
        })).observe(document.getElementById("beat"), { attributes: true, attributeFilter: ["class"], subtree: true }));
        const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
        navigator.mediaDevices.getUserMedia = async wanted => { window.asked = wanted; return window.microphone = await ask(wanted); };
        """;

    [Fact]
    public async Task ThroughTheWorklet_WithCuesAndCountIn_ASetIsRested_AndHeardAgain()
    {
        using TemporaryFolder data = new();
        ShortCall.AddTo(data.Path);
        string wav = Enumerable.Repeat(ShortCall.Clean, 5).Aggregate(new Recording(44_100).Play(ShortCall.Missed), (sound, call) => sound.Play(call, silenceAfterSeconds: 3)).Write(data.Path, "hands-free.wav");
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(wav);
        await browser.Context.AddInitScriptAsync(Watcher);
        PracticePage practice = await PracticePage.OpenAsync(browser, new Uri(program.Address, "?capture=worklet"), new { cues = "on", beat = "count-in", cautionSeen = true });
        await practice.ChooseAsync(ShortCall.Title, "proof", "amateur", ("sets", "2"), ("cleanInARow", "2"));
        await practice.StartAsync();
        await practice.WaitForVerdictsAsync(1, 20);
        string[] low = await practice.Page.EvaluateAsync<string[]>("window.tones.map(String)");

        // A set is finished: a rest is proposed, and playing ends it. On a busy machine the browser loses sound now and then: not counted, then.
        await Assertions.Expect(practice.Page.Locator("#state-word")).ToHaveTextAsync("rest", new() { Timeout = 40_000 });
        await Assertions.Expect(practice.Page.Locator("#task-words")).ToContainTextAsync("Set finished. Rest 30 seconds");
        int before = (await practice.WaitForVerdictsAsync(3, 20)).Count;
        IReadOnlyList<ShownVerdict> shown = [.. (await practice.WaitForVerdictsAsync(before + 1, 20)).Take(before + 1)];
        IReadOnlyList<ShownVerdict> counted = [.. shown.Where(verdict => verdict.Verdict != "not-counted").Take(4)];
        Assert.Equal(["missed", "clean", "clean", "clean"], counted.Select(verdict => verdict.Verdict));
        Assert.Equal([0, 0, 1, 1], counted.Select(verdict => verdict.Seals));
        IReadOnlyList<string> words = await practice.WordsAsync();
        Assert.Contains("judging", words);
        Assert.Equal("listening", words[words.ToList().IndexOf("rest") + 1]);

        // The cues: missed is one tone, clean two, a set three; before each attempt one bar is counted in, seen and not heard.
        Assert.Single(low);
        Assert.Equal(1 + 2 + 3 + 2 + (2 * (shown.Count - counted.Count)), await practice.Page.EvaluateAsync<int>("window.tones.length"));
        Assert.Equal(["1", "2", "3", "4"], (await practice.Page.EvaluateAsync<string[]>("window.beats")).Take(4));
        await Assertions.Expect(practice.Page.Locator("#verdict-limits")).ToContainTextAsync("Judged by");

        // Asked of the browser: no processing of the sound.
        Assert.Equal("false false false", await practice.Page.EvaluateAsync<string>(
            "`${window.asked.audio.echoCancellation} ${window.asked.audio.noiseSuppression} ${window.asked.audio.autoGainControl}`"));

        await practice.Page.Locator("[data-command=end]").ClickAsync();
        await practice.Page.Locator("#attempt-list button").First.ClickAsync();
        await practice.Page.WaitForFunctionAsync("() => document.getElementById('clip').currentTime > 0.3");
        double length = await practice.Page.EvaluateAsync<double>("document.getElementById('clip').duration");
        Assert.InRange(length, 1.2, 2.4); // the attempt is 1.1 s long; half a second before it, and what was heard after it
        Assert.Empty(browser.Problems);
    }

    [Fact]
    public async Task Numbers_ChangeDuringADrillByKeyboard_AndTheCountStays_AndLostSoundIsTold()
    {
        using TemporaryFolder data = new();
        ShortCall.AddTo(data.Path);
        string wav = new Recording(44_100).Play(ShortCall.Clean, silenceAfterSeconds: 5).Play(ShortCall.Clean).Play(ShortCall.Clean).Write(data.Path, "numbers.wav");
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(wav);
        await browser.Context.AddInitScriptAsync(Watcher);
        PracticePage practice = await PracticePage.OpenAsync(browser, program.Address, new { cues = "off" });
        IPage page = practice.Page;
        await practice.ChooseAsync(ShortCall.Title, "proof", "amateur", ("sets", "1"), ("cleanInARow", "5"));
        await practice.StartAsync();
        await practice.WaitForVerdictsAsync(1, 20);

        // N opens the numbers; 5 becomes 2; Enter takes them.
        await page.Keyboard.PressAsync("KeyN");
        ILocator field = page.Locator("#numbers-drill [name=cleanInARow]");
        await Assertions.Expect(field).ToHaveValueAsync("5");
        await field.FocusAsync();
        await page.Keyboard.PressAsync("Control+A");
        await page.Keyboard.TypeAsync("2");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#numbers-dialog")).ToBeHiddenAsync();
        await Assertions.Expect(page.Locator("#count")).ToHaveAttributeAsync("data-needed", "2");
        await Assertions.Expect(page.Locator("#count")).ToHaveAttributeAsync("data-count", "1");

        // The microphone falls silent for a moment in the next attempt, as when another program takes it: told, and not counted.
        await Assertions.Expect(page.Locator("#state-word")).ToHaveTextAsync("listening", new LocatorAssertionsToHaveTextOptions { Timeout = 10_000 });
        await page.EvaluateAsync("window.microphone.getAudioTracks()[0].dispatchEvent(new Event('mute'))");
        await Assertions.Expect(page.Locator("#notice")).ToContainTextAsync("Sound was lost on the way");
        IReadOnlyList<ShownVerdict> shown = await practice.WaitForVerdictsAsync(3, 20);

        Assert.Equal(["clean", "not-counted", "clean"], shown.Select(verdict => verdict.Verdict));
        Assert.Equal([1, 1, 0], shown.Select(verdict => verdict.Count));
        Assert.Equal(1, shown[^1].Seals);
        Assert.Equal(0, await page.EvaluateAsync<int>("window.tones.length")); // cues are off
        Assert.Empty(browser.Problems);
    }

    [Fact]
    public async Task Caution_IsShownOnce_AndStaysInSettings_AndCuesCanBeTried()
    {
        using TemporaryFolder data = new();
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(microphoneWav: null);
        await browser.Context.AddInitScriptAsync(Watcher);
        IPage page = await browser.OpenAsync(program.Address);
        await Assertions.Expect(page.Locator("#caution-first")).ToContainTextAsync("can harm hearing");

        // A busy program is slow to keep it; once the caution is gone, a reload does not bring it back.
        await page.RouteAsync("**/api/settings", async route =>
        {
            if (route.Request.Method == "PUT")
            {
                await Task.Delay(500);
            }

            await route.ContinueAsync();
        });
        await page.Locator("#caution-seen").ClickAsync();
        await Assertions.Expect(page.Locator("#caution-first")).ToBeHiddenAsync();
        await page.ReloadAsync();
        await page.Locator("#preview > svg").WaitForAsync();
        await Assertions.Expect(page.Locator("#caution-first")).ToBeHiddenAsync();
        await page.Locator("[data-screen-link=settings]").ClickAsync();
        await Assertions.Expect(page.Locator("#screen-settings .caution-words")).ToContainTextAsync("can harm hearing");
        await page.Locator("[data-try-cue=set]").ClickAsync();
        await page.WaitForFunctionAsync("() => window.tones.length === 3");
        Assert.Empty(browser.Problems);
    }
}
