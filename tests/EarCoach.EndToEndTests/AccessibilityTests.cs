using System.Text.Json;
using EarCoach.EndToEndTests.Running;
using Microsoft.Playwright;
using Xunit;

namespace EarCoach.EndToEndTests;

/// <summary>Every screen, light and dark, before the axe accessibility engine; and the whole way by keyboard alone.</summary>
public sealed class AccessibilityTests
{
    [Theory]
    [InlineData(ColorScheme.Light)]
    [InlineData(ColorScheme.Dark)]
    public async Task EveryScreen_HasNoViolation(ColorScheme scheme)
    {
        using TemporaryFolder data = new();
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(microphoneWav: null, scheme: scheme);
        IPage page = await browser.OpenAsync(program.Address);
        await page.EvaluateAsync(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "axe.min.js")));
        await page.Locator("#preview > svg").WaitForAsync();
        await CheckAsync(page, "set-up");
        await page.Locator("#strictness-more summary").ClickAsync();
        await CheckAsync(page, "set-up with its numbers");
        await page.Locator("#start-demo").ClickAsync();
        await page.Locator("#task > svg").WaitForAsync();
        await CheckAsync(page, "playing");
        await page.Locator("#verdict[data-verdict=missed]").WaitForAsync(new LocatorWaitForOptions { Timeout = 60_000 });
        await CheckAsync(page, "playing, after a miss");
        await page.Keyboard.PressAsync("KeyN");
        await page.Locator("#numbers-dialog[open]").WaitForAsync();
        await CheckAsync(page, "the numbers of a drill");
        await page.Keyboard.PressAsync("Escape");
        await page.Locator("[data-screen-link=settings]").ClickAsync();
        await CheckAsync(page, "settings");
        await page.Locator("[data-screen-link=after]").ClickAsync();
        await page.Locator("#attempt-list li").First.WaitForAsync();
        await CheckAsync(page, "what was done");
        Assert.Empty(browser.Problems);
    }

    [Fact]
    public async Task KeyboardAlone_ReachesEverything()
    {
        using TemporaryFolder data = new();
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(microphoneWav: null);
        IPage page = await browser.OpenAsync(program.Address);
        await page.Locator("#preview > svg").WaitForAsync();

        // Second passage by arrow key, then Tab to the demo button and Enter.
        await TabToAsync(page, "#passage-list input:checked");
        await page.Keyboard.PressAsync("ArrowDown");
        await Assertions.Expect(page.Locator("#passage-list label").Nth(1).Locator("input")).ToBeCheckedAsync();
        await TabToAsync(page, "#start-demo");
        await page.Keyboard.PressAsync("Enter");
        await page.Locator("#screen-play").WaitForAsync();
        await page.Keyboard.PressAsync("Space");
        await Assertions.Expect(page.Locator("#state-word")).ToHaveTextAsync("paused");
        await TabToAsync(page, "[data-command=end]");
        await page.Keyboard.PressAsync("Enter");
        await page.Locator("#screen-after").WaitForAsync();
        await TabToAsync(page, "[data-screen-link=settings]");
        await page.Keyboard.PressAsync("Enter");
        await page.Locator("#screen-settings").WaitForAsync();

        // A pedal is bound by pressing it.
        await TabToAsync(page, "#bindings button");
        await page.Keyboard.PressAsync("Enter");
        await page.Keyboard.PressAsync("ArrowRight");
        await Assertions.Expect(page.Locator("#bindings .bound").First).ToContainTextAsync("→");
        Assert.Empty(browser.Problems);
    }

    private static async Task TabToAsync(IPage page, string selector)
    {
        for (int presses = 0; presses < 80; presses++)
        {
            if (await page.EvaluateAsync<bool>("selector => document.activeElement?.matches(selector) ?? false", selector))
            {
                return;
            }

            await page.Keyboard.PressAsync("Tab");
        }

        Assert.Fail($"'{selector}' cannot be reached with the Tab key.");
    }

    private static async Task CheckAsync(IPage page, string screen)
    {
        string found = await page.EvaluateAsync<string>(
            "async () => JSON.stringify((await axe.run(document)).violations.map(v => `${v.id} (${v.impact}): ${v.help}: ${v.nodes.map(n => n.target.join(' ') + ' ' + (n.any[0]?.message ?? '')).slice(0, 4).join('; ')}`))");
        string[] violations = JsonSerializer.Deserialize<string[]>(found)!;
        Assert.True(violations.Length == 0, $"On the screen '{screen}':{Environment.NewLine}{string.Join(Environment.NewLine, violations)}");
    }
}
