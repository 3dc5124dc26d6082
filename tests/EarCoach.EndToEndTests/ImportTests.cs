using EarCoach.EndToEndTests.Running;
using Microsoft.Playwright;
using Xunit;

namespace EarCoach.EndToEndTests;

/// <summary>Files come into the library by dropping them on the page.</summary>
public sealed class ImportTests
{
    // Source: published transposition tables (studystack.com/flashcard-697185, classical set): a horn in F sounds a perfect fifth lower than written
    // (7 semitones), a clarinet in A a minor third lower (3 semitones). On a treble staff E4 stands on the lowest line (common practice).
    [Fact]
    public async Task EachFormat_Dropped_IsShownInWrittenPitch()
    {
        using TemporaryFolder data = new();
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(microphoneWav: null);
        IPage page = await browser.OpenAsync(program.Address);

        // MIDI, sounding C4 E4 G4, for the horn in F: written G4 B4 D5, which are 2, 4 and 6 steps above E4.
        await page.DropAsync("three-notes.mid", SmallScores.Midi("Three notes", 60, 64, 67));
        await page.Locator("#import-notation > svg").WaitForAsync();
        await page.ChooseInstrumentAsync("#import-instrument", "french horn", "Horn in F");
        await Assertions.Expect(page.Locator("#import-about")).ToContainTextAsync("written G4 and sounds C4: sounds 7 semitones lower");
        await KeepAsync(page, "Three notes");
        Assert.Equal((int[])[2, 4, 6], await page.StepsAboveLowestLineAsync("#pick", 3));

        // MusicXML of two parts: they are listed with count and range, and the clarinet is chosen. E5 C5 G4 E4 stand 7, 5, 2 and 0 steps above E4.
        await page.DropAsync("two-parts.musicxml", SmallScores.TwoParts);
        await Assertions.Expect(page.Locator("#import-lines .option")).ToHaveCountAsync(2);
        await Assertions.Expect(page.Locator("#import-lines .option").First).ToContainTextAsync("4 notes, C4 to C5"); // G4 to G5 a fifth lower
        await page.Locator("#import-lines .option", new PageLocatorOptions { HasText = "Clarinet in A" }).ClickAsync();
        await Assertions.Expect(page.Locator("#import-about")).ToContainTextAsync("written E5 and sounds C♯5: sounds 3 semitones lower");
        await KeepAsync(page, "Two parts");
        Assert.Equal((int[])[7, 5, 2, 0], await page.StepsAboveLowestLineAsync("#pick", 4));
        await page.Locator("#pick").FocusAsync();
        await page.Keyboard.PressAsync("End");
        await Assertions.Expect(page.Locator("#pick-words")).ToHaveTextAsync("Note 4 of 4: E4, bar 5, beat 4.");

        // Compressed MusicXML for a clarinet in A: sounding A4 is written C5, 5 steps above E4.
        await page.DropAsync("packed.mxl", SmallScores.Mxl("Packed", "clarinet-a", 69, 71));
        await Assertions.Expect(page.Locator("#import-about")).ToContainTextAsync("written C5 and sounds A4");
        await KeepAsync(page, "Packed");
        Assert.Equal(5, (await page.StepsAboveLowestLineAsync("#pick", 1))[0]);

        // ABC, whose pitches are those of the part unless the player says otherwise: C4 read by a horn in E flat sounds E flat 3, a major sixth lower.
        await page.DropAsync("bridge.abc", SmallScores.Abc);
        await page.Locator("#import-notation > svg").WaitForAsync();
        await page.ChooseInstrumentAsync("#import-instrument", "horn", "Horn in F");
        await page.Locator("#import-instrument select:not([size])").SelectOptionAsync("eb");
        await Assertions.Expect(page.Locator("#import-about")).ToContainTextAsync("written C4 and sounds E♭3: sounds 9 semitones lower");
        await KeepAsync(page, "Bridge tune");
        Assert.Equal((int[])[-2, 0, 2, 5], await page.StepsAboveLowestLineAsync("#pick", 4));

        await page.Locator("[data-screen-link=library]").ClickAsync();
        await Assertions.Expect(page.Locator("#library-list li")).ToHaveCountAsync(10); // with the six that came with the program
        Assert.Empty(browser.Problems);
        Assert.Empty(browser.RequestsElsewhere(program.Address));
    }

    [Fact]
    public async Task WhatCannotBeRead_IsSaidInFull_WithItsPlace()
    {
        using TemporaryFolder data = new();
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(microphoneWav: null);
        IPage page = await browser.OpenAsync(program.Address);
        ILocator problem = page.Locator("#import-problem");

        await page.DropAsync("notes.txt", "these are no notes");
        await Assertions.Expect(problem).ToContainTextAsync("MIDI begins with MThd");

        await page.DropAsync("chord.abc", "X:1\nT:Chord\nL:1/4\nK:C\nC [EG] c |\n");
        await Assertions.Expect(problem).ToContainTextAsync("Line 5, column 3");
        await Assertions.Expect(page.Locator("#import-keep")).ToBeDisabledAsync();

        string twoAtOnce = SmallScores.TwoParts.Replace("<octave>5</octave></pitch><duration>1", "<octave>5</octave></pitch><chord/><duration>1", StringComparison.Ordinal);
        await page.DropAsync("chord.musicxml", twoAtOnce.Replace("<pitch><step>C</step><octave>5</octave></pitch><chord/>", "<chord/><pitch><step>C</step><octave>5</octave></pitch>", StringComparison.Ordinal));
        await Assertions.Expect(problem).ToContainTextAsync("a passage is one line");
        await Assertions.Expect(problem).ToContainTextAsync("5"); // the bar

        // Outside the range: a warning, no refusal. The piccolo's lowest note is D5 (common practice), C2 lies far below.
        await page.DropAsync("low.mid", SmallScores.Midi("Low", 36, 38));
        await page.Locator("#import-notation > svg").WaitForAsync();
        await page.ChooseInstrumentAsync("#import-instrument", "picc", "Piccolo");
        await Assertions.Expect(page.Locator("#import-warning")).ToContainTextAsync("outside the range of the piccolo");
        await Assertions.Expect(page.Locator("#import-keep")).ToBeEnabledAsync();
    }

    // Source: common practice: horn in B flat alto sounds a major second lower, basso a major ninth lower; older parts often do not say which.
    [Fact]
    public async Task HornInBFlat_AltoOrBasso_IsAsked()
    {
        using TemporaryFolder data = new();
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(microphoneWav: null);
        IPage page = await browser.OpenAsync(program.Address);
        await page.DropAsync("old.abc", SmallScores.Abc.Replace("Bridge tune", "Corno in Bb", StringComparison.Ordinal));
        await Assertions.Expect(page.Locator("#import-problem")).ToContainTextAsync("Horn in B flat alto or Horn in B flat basso");
        await Assertions.Expect(page.Locator("#import-keep")).ToBeDisabledAsync();
        await page.Locator("#import-instrument select:not([size])").SelectOptionAsync("bb-basso");
        await Assertions.Expect(page.Locator("#import-about")).ToContainTextAsync("written C4 and sounds B♭2: sounds 14 semitones lower");
        await Assertions.Expect(page.Locator("#import-keep")).ToBeEnabledAsync();

        // Where the name is clear, nothing is asked.
        await page.DropAsync("clear.abc", SmallScores.Abc.Replace("Bridge tune", "Horn in D", StringComparison.Ordinal));
        await Assertions.Expect(page.Locator("#import-about")).ToContainTextAsync("written C4 and sounds D3: sounds 10 semitones lower");
        Assert.DoesNotContain(browser.Problems, problem => !problem.Contains("400", StringComparison.Ordinal));
    }

    [Fact]
    public async Task ByKeysAlone_AFileIsChosenInTheBrowsersDialog_OneAfterAnother()
    {
        using TemporaryFolder data = new();
        string first = Path.Combine(data.Path, "first.mid");
        string second = Path.Combine(data.Path, "second.abc");
        await File.WriteAllBytesAsync(first, SmallScores.Midi("First of two", 60, 62));
        await File.WriteAllTextAsync(second, SmallScores.Abc);
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(microphoneWav: null);
        IPage page = await browser.OpenAsync(program.Address);
        TaskCompletionSource<IFileChooser> opened = new(TaskCreationOptions.RunContinuationsAsynchronously);
        page.FileChooser += (_, dialog) => opened.TrySetResult(dialog); // well before: the browser needs a moment until it hands its dialogs over
        await page.Locator("[data-screen-link=library]").ClickAsync();
        ILocator choose = page.Locator("#screen-library [data-choose-file]");
        await Assertions.Expect(choose).ToBeVisibleAsync(); // what is not shown yet takes no focus
        await choose.FocusAsync();
        await Assertions.Expect(choose).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("Enter");
        IFileChooser chooser = await opened.Task.WaitAsync(TimeSpan.FromSeconds(30));
        await chooser.SetFilesAsync([first, second]);
        await Assertions.Expect(page.Locator("#import-file")).ToHaveTextAsync("first.mid, and 1 more after it, MIDI");
        await page.Locator("#import-notation > svg").WaitForAsync();
        await page.Locator("#import-keep").PressAsync("Enter");
        await Assertions.Expect(page.Locator("#import-file")).ToHaveTextAsync("second.abc, ABC");
        await Assertions.Expect(page.Locator("#import-about")).ToContainTextAsync("8 notes, bars 1 to 2");
        await page.Locator("#import-skip").PressAsync("Enter");
        await Assertions.Expect(page.Locator("#library-list")).ToContainTextAsync("First of two");
        await Assertions.Expect(page.Locator("#library-list")).Not.ToContainTextAsync("Bridge tune");
        Assert.Empty(browser.Problems);
    }

    private static async Task KeepAsync(IPage page, string title)
    {
        await page.Locator("#import-keep").ClickAsync();
        await Assertions.Expect(page.Locator("#passage-title")).ToHaveTextAsync(title);
        await page.Locator("#pick > svg").WaitForAsync();
    }
}
