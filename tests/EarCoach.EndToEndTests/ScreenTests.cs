using EarCoach.Core.Passages;
using EarCoach.EndToEndTests.Running;
using EarCoach.EndToEndTests.Sound;
using Microsoft.Playwright;
using Xunit;

namespace EarCoach.EndToEndTests;

/// <summary>Every screen as it looks, for a person to look at: the pictures lie beside the tests, in screens/.</summary>
public sealed class ScreenTests
{
    [Theory]
    [InlineData(1280, 800, ColorScheme.Light)]
    [InlineData(820, 1180, ColorScheme.Dark)]
    public async Task EveryScreen_IsDrawn(int width, int height, ColorScheme scheme)
    {
        using TemporaryFolder data = new();
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(microphoneWav: null, width, height, scheme);
        IPage page = await browser.OpenAsync(program.Address);
        await page.Locator("#preview > svg").WaitForAsync();
        await Shot(page, "setup", width, scheme);
        await page.Locator("#start-demo").ClickAsync();
        await page.Locator("#task > svg").WaitForAsync();
        await page.Locator("#verdict[data-verdict=clean]").WaitForAsync();
        await Shot(page, "play-clean", width, scheme);
        await page.Locator("#verdict[data-verdict=missed]").WaitForAsync();
        await page.WaitForTimeoutAsync(300);
        await Shot(page, "play-missed", width, scheme);
        await page.Locator("[data-screen-link=settings]").ClickAsync();
        await Shot(page, "settings", width, scheme);
        await page.Locator("[data-screen-link=after]").ClickAsync();
        await page.WaitForTimeoutAsync(500);
        await Shot(page, "after", width, scheme);
        Assert.Empty(browser.Problems);
        Assert.NotEmpty(browser.Requests);
        Assert.Empty(browser.RequestsElsewhere(program.Address));
    }

    [Theory]
    [InlineData(1280, 800, ColorScheme.Light)]
    [InlineData(820, 1180, ColorScheme.Dark)]
    public async Task EveryDrill_FitsTheScreen(int width, int height, ColorScheme scheme)
    {
        using TemporaryFolder data = new();
        Passage call = ShortCall.Passage with { InstrumentId = "oboe" };
        ShortCall.Add(data.Path, call, call with { Title = "Second call" });
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(microphoneWav: null, width, height, scheme);
        IPage page = await browser.OpenAsync(program.Address);
        foreach (string drill in (string[])["chain", "rhythm-variants", "tempo-ladder", "proof", "rotation", "cold-take"])
        {
            await page.EvaluateAsync(Begin, drill);
            await page.ReloadAsync();
            await page.Locator("html[data-ready=true]").WaitForAsync(new LocatorWaitForOptions { State = WaitForSelectorState.Attached });
            await page.EvaluateAsync("location.hash = '#playing'");
            await page.Locator("#task > svg").WaitForAsync();
            await Shot(page, $"play-{drill}", width, scheme);
            await FitsAsync(page, drill);
            if (drill == "proof")
            {
                await page.EvaluateAsync("document.documentElement.dataset.distance = 'far'");
                await page.WaitForTimeoutAsync(300);
                await Shot(page, "play-far", width, scheme);
                await FitsAsync(page, "two metres away");
            }
        }

        await page.Keyboard.PressAsync("KeyN");
        await page.Locator("#numbers-dialog[open]").WaitForAsync();
        await Shot(page, "numbers", width, scheme);
        await FitsAsync(page, "numbers");
        await page.Locator("#numbers-leave").ClickAsync();
        await page.Keyboard.PressAsync("Space");
        await Assertions.Expect(page.Locator("#state-word")).ToHaveTextAsync("paused");
        await Shot(page, "paused", width, scheme);
        Assert.Empty(browser.Problems);
    }

    private const string Begin = """
        async drill => {
          const { passages } = await (await fetch("/api/choices")).json();
          const passage = passages.find(one => one.instrument.startsWith(drill === "rotation" ? "Oboe" : "Violin")) ?? passages[0];
          const setup = { passageId: passage.id, drillKind: drill, strictnessId: "advanced", drillNumbers: {}, strictnessNumbers: {} };
          const answer = await fetch("/api/session", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(setup) });
          if (!answer.ok) throw new Error(await answer.text());
        }
        """;

    /// <summary>Nothing runs out of the page sideways, and state, count, task and commands can be seen without scrolling.</summary>
    private static async Task FitsAsync(IPage page, string what)
    {
        string outside = await page.EvaluateAsync<string>("""
            () => ["#state", "#count", "#task", "#verdict", ".live", ".play-keys"].filter(name => {
              const box = document.querySelector(name).getBoundingClientRect();
              return box.left < -1 || box.top < -1 || box.right > innerWidth + 1 || box.bottom > innerHeight + 1;
            }).concat(document.documentElement.scrollWidth > innerWidth ? ["the page is wider than the window"] : []).join(", ")
            """);
        Assert.True(outside.Length == 0, $"{what}: not within the window: {outside}");
    }

    private static async Task Shot(IPage page, string name, int width, ColorScheme scheme)
    {
        string folder = Directory.CreateDirectory(Path.Combine(AppContext.BaseDirectory, "screens")).FullName;
        await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, $"{name}-{width}-{scheme}.png") });
    }
}
