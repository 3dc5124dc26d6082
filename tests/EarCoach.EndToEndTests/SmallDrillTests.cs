using EarCoach.Core.Passages;
using EarCoach.EndToEndTests.Running;
using EarCoach.EndToEndTests.Sound;
using Microsoft.Playwright;
using Xunit;

namespace EarCoach.EndToEndTests;

/// <summary>The drills that have no test file of their own, each played through into the browser's microphone.</summary>
public sealed class SmallDrillTests
{
    private const double Pause = 0.9; // of silence between attempts, in seconds

    [Fact]
    public async Task Chain_NoteByNote_EachLengthCleanThreeTimes_IsDone()
    {
        Recording recording = new(44_100);
        int lengths = ShortCall.Passage.Notes.Length;
        for (int length = 1; length <= lengths; length++)
        {
            for (int time = 0; time < 3; time++)
            {
                recording.Play(ShortCall.Part(0, length), Pause);
            }
        }

        IReadOnlyList<ShownVerdict> shown = await PlayAsync(recording, [.. Enumerable.Repeat("clean", 3 * lengths)], ShortCall.Title, "chain", [("unit", "note"), ("cleanInARow", "3")], [ShortCall.Passage]);

        Assert.Equal([0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3, 4], shown.Select(verdict => verdict.Stage));
        Assert.Equal([1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2, 0], shown.Select(verdict => verdict.Count));
    }

    [Fact]
    public async Task TempoLadder_AMissStepsDown_CleanTakesClimb()
    {
        // One notch below the goal of 220 quarter notes a minute is 96 % of it.
        Recording recording = new Recording(44_100)
            .Play(ShortCall.NotesOf(ShortCall.Passage, 0.96 * 220), Pause)
            .Play(ShortCall.Missed, Pause)
            .Play(ShortCall.NotesOf(ShortCall.Passage, 0.96 * 220), Pause)
            .Play(ShortCall.Clean, Pause);

        IReadOnlyList<ShownVerdict> shown = await PlayAsync(recording, ["clean", "missed", "clean", "clean"], ShortCall.Title, "tempo-ladder",
            [("cleanInARow", "1"), ("startShare", "96"), ("notchShare", "4"), ("dropMisses", "1"), ("dropWindow", "1")], [ShortCall.Passage]);

        Assert.Equal([1, 0, 1, 2], shown.Select(verdict => verdict.Stage));
    }

    [Fact]
    public async Task Rotation_TakesThePassagesOfTheInstrumentInTurn()
    {
        Passage left = ShortCall.Passage with { Title = "Left call", InstrumentId = "oboe" };
        Passage right = left with { Title = "Right call", Notes = [.. left.Notes.Select(note => note with { MidiPitch = note.MidiPitch + 3 })] };
        Recording recording = new Recording(44_100)
            .Play(ShortCall.NotesOf(left, 220), Pause).Play(ShortCall.NotesOf(right, 220), Pause).Play(ShortCall.NotesOf(left, 220), Pause).Play(ShortCall.NotesOf(left, 220), Pause);

        // The last turn is the right call's.
        IReadOnlyList<ShownVerdict> shown = await PlayAsync(recording, ["clean", "clean", "clean", "missed"], left.Title, "rotation", [("attemptsEach", "1"), ("rounds", "2")], [left, right]);

        Assert.Equal([1, 2, 3, 4], shown.Select(verdict => verdict.Stage));
    }

    [Fact]
    public async Task ColdTake_IsTakenOnce_AndNotTwiceADay()
    {
        using TemporaryFolder data = new();
        ShortCall.AddTo(data.Path);
        string wav = new Recording(44_100).Play(ShortCall.Missed).Write(data.Path, "cold.wav");
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(wav);
        PracticePage practice = await PracticePage.OpenAsync(browser, program.Address);
        await practice.ChooseAsync(ShortCall.Title, "cold-take", "amateur");
        await practice.StartAsync();
        Assert.Equal("missed", Assert.Single(await practice.WaitForVerdictsAsync(1, 20)).Verdict);
        await Assertions.Expect(practice.Page.Locator("#state-word")).ToHaveTextAsync("done");

        await practice.Page.Locator("[data-screen-link=setup]").ClickAsync();
        await practice.Page.Locator("#start").ClickAsync();
        await Assertions.Expect(practice.Page.Locator("#setup-problem")).ToHaveTextAsync(
            "This passage was played today already, so no take of it is cold; come back tomorrow, or choose another drill.");
        Assert.DoesNotContain(browser.Problems, problem => !problem.Contains("400", StringComparison.Ordinal)); // the refusal itself
    }

    [Fact]
    public async Task TroubleSpot_IsTheNoteThatWasMissed_WithItsNeighbours()
    {
        // The third note is missed; the drill then asks for it alone, with the note before it, and with the one after it.
        using TemporaryFolder data = new();
        ShortCall.AddTo(data.Path);
        string missed = new Recording(44_100).Play(ShortCall.Missed).Write(data.Path, "missed.wav");
        string spots = new Recording(44_100).Play(ShortCall.Part(2, 1), Pause).Play(ShortCall.Part(1, 2), Pause).Play(ShortCall.Part(1, 3), Pause).Write(data.Path, "spots.wav");
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using (Chromium first = await Chromium.StartAsync(missed))
        {
            PracticePage before = await PracticePage.OpenAsync(first, program.Address);
            await before.ChooseAsync(ShortCall.Title, "proof", "amateur", ("sets", "1"));
            await before.StartAsync();
            Assert.Equal("missed", Assert.Single(await before.WaitForVerdictsAsync(1, 20)).Verdict);
            await before.Page.Locator("[data-command=end]").ClickAsync();
            await before.Page.Locator("#screen-after").WaitForAsync();
        }

        await using Chromium browser = await Chromium.StartAsync(spots);
        PracticePage practice = await PracticePage.OpenAsync(browser, program.Address);
        await practice.ChooseAsync(ShortCall.Title, "trouble-spot", "amateur", ("cleanInARow", "1"), ("neighbours", "1"), ("spots", "1"));
        await practice.StartAsync();
        await Assertions.Expect(practice.Page.Locator("#task-words")).ToContainTextAsync("third note");
        IReadOnlyList<ShownVerdict> shown = await practice.WaitForVerdictsAsync(3, 20);
        Assert.Equal(["clean", "clean", "clean"], shown.Select(verdict => verdict.Verdict));
        await Assertions.Expect(practice.Page.Locator("#state-word")).ToHaveTextAsync("done");
        Assert.Empty(browser.Problems);
    }

    private static async Task<IReadOnlyList<ShownVerdict>> PlayAsync(
        Recording recording, string[] verdicts, string title, string drill, (string Number, string Value)[] numbers, Passage[] passages)
    {
        using TemporaryFolder data = new();
        ShortCall.Add(data.Path, passages);
        string wav = recording.Write(data.Path, "drill.wav");
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(wav);
        PracticePage practice = await PracticePage.OpenAsync(browser, program.Address);
        await practice.ChooseAsync(title, drill, "amateur", numbers);
        await practice.StartAsync();
        IReadOnlyList<ShownVerdict> shown = await practice.WaitForVerdictsAsync(verdicts.Length, recording.Seconds + 10);
        Assert.True(verdicts.SequenceEqual(shown.Select(verdict => verdict.Verdict)), $"Expected: {string.Join(", ", verdicts)}. Shown: {ShownVerdict.InWords(shown)}.");
        await Assertions.Expect(practice.Page.Locator("#state-word")).ToHaveTextAsync("done");
        Assert.Empty(browser.Problems);
        Assert.Empty(browser.RequestsElsewhere(program.Address));
        return shown;
    }
}
