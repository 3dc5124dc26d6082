using System.Text.Json;
using EarCoach.EndToEndTests.Running;
using Microsoft.Playwright;
using Xunit;

namespace EarCoach.EndToEndTests;

/// <summary>The screens of the library, light and dark, before the axe accessibility engine; their pictures lie beside the tests, in screens/.</summary>
public sealed class LibraryScreenTests
{
    [Theory]
    [InlineData(1280, 800, ColorScheme.Light)]
    [InlineData(820, 1180, ColorScheme.Dark)]
    public async Task EveryScreenOfTheLibrary_HasNoViolation(int width, int height, ColorScheme scheme)
    {
        using TemporaryFolder data = new();
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(microphoneWav: null, width, height, scheme);
        IPage page = await browser.OpenAsync(program.Address);
        await page.EvaluateAsync(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "axe.min.js")));
        await page.DropAsync("two-parts.musicxml", SmallScores.TwoParts);
        await page.Locator("#import-notation > svg").WaitForAsync();
        await CheckAsync(page, "import");
        await page.DropAsync("chord.abc", "X:1\nT:Chord\nL:1/4\nK:C\nC [EG] c |\n");
        await Assertions.Expect(page.Locator("#import-problem")).ToContainTextAsync("Line 5");
        await CheckAsync(page, "import-refused");
        await page.DropAsync("graces.abc", "X:1\nT:With grace notes\nM:3/4\nL:1/4\nK:G\nG {ef}g !fermata!d | e {a}g2 |]\n");
        await Assertions.Expect(page.Locator("#import-remarks")).ToContainTextAsync("may be played or left out");
        await page.Locator("#import-keep").ClickAsync();
        await page.Locator("#pick > svg").WaitForAsync();
        await page.Locator("#pick").PressAsync("ArrowRight");
        await Assertions.Expect(page.Locator("#pick-words")).ToContainTextAsync("a grace note, may be left out");
        await page.Locator("#pick").PressAsync("Enter");
        await page.Locator("#pick").PressAsync("Enter");
        await page.Locator("[data-relax=required][data-value=true]").ClickAsync();
        await Assertions.Expect(page.Locator("#screen-passage [data-undo]")).ToBeVisibleAsync();
        await page.Locator("#pick").PressAsync("End");
        await page.Locator("#pick").PressAsync("Home");
        await page.Locator("#pick").PressAsync("ArrowRight");
        await page.Locator("#pick").PressAsync("Escape");
        await Assertions.Expect(page.Locator("#pick-words")).ToContainTextAsync("a grace note, must be played");
        await CheckAsync(page, "passage-with-graces");
        await page.DropAsync("part.mid", SmallScores.Midi("Part of eight bars", SmallScores.EightBars));
        await Assertions.Expect(page.Locator("#import-about")).ToContainTextAsync("32 notes");
        await page.ChooseInstrumentAsync("#import-instrument", "horn in f", "Horn in F");
        await Assertions.Expect(page.Locator("#import-about")).ToContainTextAsync("written G4");
        await page.Locator("#import-keep").ClickAsync();
        await page.Locator("#pick > svg").WaitForAsync();
        await page.Locator("#pick [id=n9] .notehead").First.ClickAsync();
        await page.Locator("#pick [id=n14] .notehead").First.ClickAsync();
        await page.Locator("[data-relax=timingJudged][data-value=false]").ClickAsync();
        await Assertions.Expect(page.Locator("#pick .relax-time")).ToHaveCountAsync(6);
        await page.Locator("[data-relax=required][data-value=false]").ClickAsync();
        await Assertions.Expect(page.Locator("#pick .relax-note")).ToHaveCountAsync(6);
        await page.Locator("#passage-form [name=tags]").FillAsync("audition, high notes");
        await page.Locator("#passage-form [name=performanceDate]").FillAsync("2031-05-04");
        await page.Locator("#passage-form [name=cents]").FillAsync("15");
        await page.Locator("#passage-form button[type=submit]").ClickAsync();
        await Assertions.Expect(page.Locator("#passage-form [name=tags]")).ToHaveValueAsync("audition, high notes");
        await CheckAsync(page, "passage");
        await page.Locator("#excerpt-form button").ClickAsync();
        await Assertions.Expect(page.Locator("#passage-about")).ToContainTextAsync("Notes 10 to 15");
        await page.Locator("[data-screen-link=library]").ClickAsync();
        await page.Locator("#library-list button", new PageLocatorOptions { HasText = "Delete" }).First.ClickAsync();
        await page.Locator("#screen-library [data-undo]").WaitForAsync();
        await CheckAsync(page, "library");
        await page.Locator("#screen-library a[href='#typed']").ClickAsync();
        await page.Locator("#typed-text").FillAsync("G4/8 | (C5/4 D5/8 E5/8) F5/4. G5/8 | A5/2 R/2");
        await page.Locator("#typed-notation > svg").WaitForAsync();
        await CheckAsync(page, "typed");
        await page.Locator("#typed-text").FillAsync("G4/8 | C5/4 D5/7");
        await Assertions.Expect(page.Locator("#typed-problem")).ToContainTextAsync("Line 1, column 16");
        await CheckAsync(page, "typed-refused");
        await page.Locator("[data-screen-link=setup]").ClickAsync();
        await page.Locator("#passage-list label", new PageLocatorOptions { HasText = "32 notes" }).ClickAsync();
        await page.Locator("#drill-list input[value=rhythm-variants]").CheckAsync();
        await page.Locator("#rhythm-shown").SelectOptionAsync("2a");
        await page.Locator("#preview > svg[aria-label*='another rhythm']").WaitForAsync();
        await CheckAsync(page, "rhythms-first-screen");
        Assert.Empty(browser.RequestsElsewhere(program.Address));
    }

    private static async Task CheckAsync(IPage page, string screen)
    {
        await page.ShotAsync($"library-{screen}");
        string found = await page.EvaluateAsync<string>(
            "async () => JSON.stringify((await axe.run(document)).violations.map(v => `${v.id} (${v.impact}): ${v.help}: ${v.nodes.map(n => n.target.join(' ') + ' ' + (n.any[0]?.message ?? '')).slice(0, 4).join('; ')}`))");
        string[] violations = JsonSerializer.Deserialize<string[]>(found)!;
        Assert.True(violations.Length == 0, $"On the screen '{screen}':{Environment.NewLine}{string.Join(Environment.NewLine, violations)}");

        // Nothing is cut off: the page is never wider than its window, and whatever is pressed is at least 24 by 24 px (WCAG 2.2, 2.5.8).
        Assert.False(await page.EvaluateAsync<bool>("document.documentElement.scrollWidth > document.documentElement.clientWidth"), $"The screen '{screen}' is wider than the window.");
        string[] small = await page.EvaluateAsync<string[]>(
            """
            () => [...document.querySelectorAll("button, a, select, input, textarea, summary")]
              .filter(target => target.offsetParent && !target.disabled && !target.matches("[type=radio], [type=checkbox], .skip-link"))
              .filter(target => { const box = target.getBoundingClientRect(); return box.width < 24 || box.height < 24; })
              .map(target => `${target.tagName} ${target.textContent.slice(0, 30)}`)
            """);
        Assert.True(small.Length == 0, $"Too small to press on the screen '{screen}': {string.Join("; ", small)}");
    }
}
