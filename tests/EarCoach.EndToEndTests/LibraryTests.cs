using EarCoach.Core.Passages;
using EarCoach.EndToEndTests.Running;
using EarCoach.EndToEndTests.Sound;
using Microsoft.Playwright;
using Xunit;

namespace EarCoach.EndToEndTests;

/// <summary>The library: a part is brought in, cut, practised; what is deleted comes back.</summary>
public sealed class LibraryTests
{
    [Fact]
    public async Task Excerpt_ChosenByKeysAlone_IsPractised()
    {
        using TemporaryFolder data = new();
        const double QuartersPerMinute = 120;

        // Bars 3 and 4 of the part, played as they should be: 8 quarter notes.
        Passage excerpt = SmallScores.Quarters("Excerpt", SmallScores.EightBars[8..16]);
        Recording recording = new Recording(44_100).Rest(2).Play(ShortCall.NotesOf(excerpt, QuartersPerMinute));
        string wav = recording.Write(data.Path, "excerpt.wav");
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(wav);
        PracticePage practice = await PracticePage.OpenAsync(browser, program.Address);
        IPage page = practice.Page;
        await page.DropAsync("part.mid", SmallScores.Midi("Part of eight bars", SmallScores.EightBars));
        await page.Locator("#import-notation > svg").WaitForAsync();

        // From here on no mouse: horn, keep, two bars from the third on, keep them, practise them.
        await TabToAsync(page, "#import-instrument input");
        await page.Keyboard.TypeAsync("horn in f");
        await Assertions.Expect(page.Locator("#import-about")).ToContainTextAsync("written G4 and sounds C4");
        await TabToAsync(page, "#import-keep");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#passage-title")).ToHaveTextAsync("Part of eight bars");
        await page.Locator("#pick > svg").WaitForAsync();
        await TabToAsync(page, "#pick");
        await page.Keyboard.PressAsync("PageDown");
        await page.Keyboard.PressAsync("PageDown");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#pick-words")).ToContainTextAsync("From G4, bar 3, beat 1");
        for (int presses = 0; presses < 7; presses++)
        {
            await page.Keyboard.PressAsync("ArrowRight");
        }

        await page.Keyboard.PressAsync("Space");
        await Assertions.Expect(page.Locator("#pick-words")).ToHaveTextAsync("Chosen: 8 notes, G4, bar 3, beat 1 to G5, bar 4, beat 4.");
        await TabToAsync(page, "#excerpt-form button");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#passage-title")).ToHaveTextAsync("Part of eight bars, bars 3 to 4");
        await Assertions.Expect(page.Locator("#passage-about")).ToContainTextAsync("Notes 9 to 16 of Part of eight bars");
        await page.Locator("#pick > svg").WaitForAsync();
        await TabToAsync(page, "#pick");
        await page.Keyboard.PressAsync("End");
        await Assertions.Expect(page.Locator("#pick-words")).ToHaveTextAsync("Note 8 of 8: G5, bar 4, beat 4."); // the bar numbers of the part
        await page.Locator("#passage-practise").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.Locator("#preview > svg").WaitForAsync();
        await Assertions.Expect(page.Locator("#passage-list label", new PageLocatorOptions { HasText = "bars 3 to 4" }).Locator("input")).ToBeCheckedAsync();

        await practice.ChooseAsync("bars 3 to 4", "proof", "amateur", ("sets", "1"), ("cleanInARow", "1"));
        await practice.StartAsync();
        IReadOnlyList<ShownVerdict> shown = await practice.WaitForVerdictsAsync(1, recording.Seconds + 15);
        Assert.Equal("clean", shown[0].Verdict);
        Assert.Empty(browser.Problems);
        Assert.Empty(browser.RequestsElsewhere(program.Address));
    }

    [Fact]
    public async Task Deleted_ComesBack_AfterAReload()
    {
        using TemporaryFolder data = new();
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(microphoneWav: null);
        IPage page = await browser.OpenAsync(program.Address);
        await page.Locator("[data-screen-link=library]").ClickAsync();
        await Assertions.Expect(page.Locator("#library-list li")).ToHaveCountAsync(6);

        // Edited first: title, tags, goal, date and strictness are found again.
        await page.Locator("#library-list a", new PageLocatorOptions { HasText = "Mill wheel" }).First.ClickAsync();
        await page.Locator("#pick > svg").WaitForAsync();
        await page.Locator("#passage-form [name=title]").FillAsync("Mill race");
        await page.Locator("#passage-form [name=tags]").FillAsync("audition, water");
        await page.Locator("#passage-form [name=goal]").FillAsync("96");
        await page.Locator("#passage-form [name=performanceDate]").FillAsync("2031-05-04");
        await page.Locator("#passage-form [name=cents]").FillAsync("12");
        await page.Locator("#passage-form button[type=submit]").ClickAsync();
        await Assertions.Expect(page.Locator("#passage-title")).ToHaveTextAsync("Mill race");
        await page.Locator("[data-screen-link=library]").ClickAsync();
        await page.Locator("#library-search").FillAsync("WATER clarinet");
        await Assertions.Expect(page.Locator("#library-list li")).ToHaveCountAsync(1);
        await Assertions.Expect(page.Locator("#library-list li")).ToContainTextAsync("goal ♩ = 96");
        await page.Locator("#library-list button", new PageLocatorOptions { HasText = "Practise" }).ClickAsync();
        await page.Locator("#preview > svg").WaitForAsync();
        await Assertions.Expect(page.Locator("#strictness-numbers [name=cents]")).ToHaveValueAsync("12");

        // Deleted, reloaded, taken back; then the edit is taken back too.
        await page.Locator("[data-screen-link=library]").ClickAsync();
        await page.Locator("#library-list button", new PageLocatorOptions { HasText = "Delete" }).ClickAsync();
        await Assertions.Expect(page.Locator("#library-list li")).ToHaveCountAsync(0);
        await page.ReloadAsync();
        await Assertions.Expect(page.Locator("#library-list li")).ToHaveCountAsync(5);
        ILocator undo = page.Locator("#screen-library [data-undo]");
        await Assertions.Expect(undo).ToContainTextAsync("“Mill race” was deleted.");
        await undo.Locator("button").ClickAsync();
        await Assertions.Expect(page.Locator("#library-list li")).ToHaveCountAsync(6);
        await Assertions.Expect(undo).ToContainTextAsync("was changed");
        await undo.Locator("button").ClickAsync();
        await Assertions.Expect(page.Locator("#library-list")).ToContainTextAsync("Mill wheel");
        await Assertions.Expect(undo).ToBeHiddenAsync();
        Assert.Empty(browser.Problems);
        Assert.Empty(browser.RequestsElsewhere(program.Address));
    }

    [Fact]
    public async Task NotesChosenByMouse_AreRelaxed_AndStandInAnotherRhythm()
    {
        using TemporaryFolder data = new();
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(microphoneWav: null);
        IPage page = await browser.OpenAsync(program.Address);
        await page.Locator("[data-screen-link=library]").ClickAsync();
        await page.Locator("#library-list a", new PageLocatorOptions { HasText = "Loom study" }).First.ClickAsync();
        await page.Locator("#pick > svg").WaitForAsync();
        await page.Locator("#pick [id=n1] .notehead").First.ClickAsync();
        await page.Locator("#pick [id=n2] .notehead").First.ClickAsync();
        await Assertions.Expect(page.Locator("#pick-words")).ToContainTextAsync("Chosen: 2 notes");
        await page.Locator("[data-relax=timingJudged][data-value=false]").ClickAsync();
        await Assertions.Expect(page.Locator("#pick .relax-time")).ToHaveCountAsync(2);
        await page.Locator("[data-relax=required][data-value=false]").ClickAsync();
        await Assertions.Expect(page.Locator("#pick .relax-note")).ToHaveCountAsync(2);
        await page.Locator("[data-relax=timingJudged][data-value=true]").ClickAsync();
        await Assertions.Expect(page.Locator("#pick .relax-time")).ToHaveCountAsync(0);

        // Typed places choose the same way; one that is not there says what there is.
        await page.Locator("#place-form [name=fromBar]").FillAsync("900");
        await page.Locator("#place-form [name=toBar]").FillAsync("901");
        await page.Locator("#place-form button").ClickAsync();
        await Assertions.Expect(page.Locator("#passage-problem")).ToContainTextAsync("No note begins from bar 900");
        await page.Locator("#place-form [name=fromBar]").FillAsync("2");
        await page.Locator("#place-form [name=fromBeat]").FillAsync("1");
        await page.Locator("#place-form [name=toBar]").FillAsync("2");
        await page.Locator("#place-form [name=toBeat]").FillAsync("");
        await page.Locator("#place-form button").ClickAsync();
        await Assertions.Expect(page.Locator("#pick-words")).ToContainTextAsync("bar 2, beat 1 to");

        // A rhythm is seen before it is played, here and on the first screen.
        await page.Locator("#variant").SelectOptionAsync("2a");
        await page.Locator("#variant-notation > svg").WaitForAsync();
        await page.Locator("#passage-practise").ClickAsync();
        await page.Locator("#drill-list input[value=rhythm-variants]").CheckAsync();
        await page.Locator("#rhythm-shown").SelectOptionAsync("2a");
        await page.Locator("#preview > svg[aria-label*='another rhythm']").WaitForAsync();

        // The files: each link answers with a file of its own name.
        await page.Locator("[data-screen-link=library]").ClickAsync();
        await page.Locator("#library-list a", new PageLocatorOptions { HasText = "Loom study" }).First.ClickAsync();
        IDownload file = await page.RunAndWaitForDownloadAsync(() => page.Locator("#export-whole a", new PageLocatorOptions { HasText = "MIDI" }).ClickAsync());
        Assert.Equal("Loom-study.mid", file.SuggestedFilename);
        Assert.Empty(browser.Problems);
        Assert.Empty(browser.RequestsElsewhere(program.Address));
    }

    [Fact]
    public async Task TypedPassage_IsEngravedWhileTyped_AndKept()
    {
        using TemporaryFolder data = new();
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(microphoneWav: null);
        IPage page = await browser.OpenAsync(program.Address);
        await page.Locator("[data-screen-link=library]").ClickAsync();
        await page.Locator("#screen-library a[href='#typed']").ClickAsync();
        await page.ChooseInstrumentAsync("#typed-instrument", "clarinet in a", "Clarinet in A");

        // Written E4 G4 C5 read by a clarinet in A sounds a minor third lower (source: see ImportTests): C#4 E4 A4.
        await page.Locator("#typed-text").FillAsync("E4/4 G4/8 C5 | E5/2");
        await Assertions.Expect(page.Locator("#typed-about")).ToContainTextAsync("written E4 and sounds C♯4");
        await page.Locator("#typed-notation > svg").WaitForAsync();
        Assert.Equal((int[])[0, 2, 5, 7], await page.StepsAboveLowestLineAsync("#typed-notation", 4));
        await page.Locator("#typed-text").FillAsync("E4/4 G4/8 C5/8 | H5/2");
        await Assertions.Expect(page.Locator("#typed-problem")).ToContainTextAsync("Line 1, column 18");
        await Assertions.Expect(page.Locator("#typed-keep")).ToBeDisabledAsync();

        // A reload keeps the draft.
        await page.Locator("#typed-text").FillAsync("E4/4 G4/8 C5/8 | E5/2 R/2");
        await page.Locator("#typed-form [name=title]").FillAsync("Typed by hand");
        await Assertions.Expect(page.Locator("#typed-keep")).ToBeEnabledAsync();
        await page.ReloadAsync();
        await Assertions.Expect(page.Locator("#typed-text")).ToHaveValueAsync("E4/4 G4/8 C5/8 | E5/2 R/2");
        await page.Locator("#typed-keep").ClickAsync();
        await Assertions.Expect(page.Locator("#passage-title")).ToHaveTextAsync("Typed by hand");
        await Assertions.Expect(page.Locator("#passage-about")).ToContainTextAsync("Clarinet in A");
        Assert.Empty(browser.RequestsElsewhere(program.Address));
    }

    private static async Task TabToAsync(IPage page, string selector)
    {
        for (int presses = 0; presses < 120; presses++)
        {
            if (await page.EvaluateAsync<bool>("selector => document.activeElement?.matches(selector) ?? false", selector))
            {
                return;
            }

            await page.Keyboard.PressAsync("Tab");
        }

        Assert.Fail($"'{selector}' cannot be reached with the Tab key.");
    }
}
