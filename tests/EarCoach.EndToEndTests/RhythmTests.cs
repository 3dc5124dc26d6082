using EarCoach.Core.Passages;
using EarCoach.EndToEndTests.Running;
using EarCoach.EndToEndTests.Sound;
using EarCoach.Scores.Midi;
using Microsoft.Playwright;
using Xunit;

namespace EarCoach.EndToEndTests;

/// <summary>A rhythm variant, played as the passage is written, as a swing, and exactly in the rhythm asked for.</summary>
public sealed class RhythmTests
{
    [Fact]
    public async Task RhythmVariant_PlayedEvenly_IsMissed_PlayedAsASwingOrInItsRhythm_IsClean()
    {
        using TemporaryFolder data = new();
        Passage passage = Read("violin-loom-study");
        const double Tempo = 72;

        // Source: common practice; variant 2a is long-short, each pair of even notes at one and a half and half of its time.
        Passage dotted = RhythmVariation.Apply(passage, RhythmVariants.ByCode("2a")!, VariantScaling.EqualTotal, VariantScope.EvenRuns);

        // Variant 2c is the same as a swing, 2 : 1: clearly long and short, though 3 : 1 is asked for.
        Passage swung = RhythmVariation.Apply(passage, RhythmVariants.ByCode("2c")!, VariantScaling.EqualTotal, VariantScope.EvenRuns);
        Recording recording = new Recording(44_100)
            .Play(ShortCall.NotesOf(passage, Tempo))
            .Play(ShortCall.NotesOf(swung, Tempo))
            .Play(ShortCall.NotesOf(dotted, Tempo));
        string wav = recording.Write(data.Path, "rhythm.wav");

        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await using Chromium browser = await Chromium.StartAsync(wav);
        PracticePage practice = await PracticePage.OpenAsync(browser, program.Address);
        await practice.ChooseAsync("Loom study", "rhythm-variants", "advanced", ("variants", "2a"), ("cleanInARow", "2"), ("startShare", "100"), ("tempi", "1"), ("endAsWritten", "no"));
        await practice.StartAsync();
        await practice.Page.Locator("#task > svg").WaitForAsync();
        await Assertions.Expect(practice.Page.Locator("#task-words")).ToContainTextAsync("long-short");
        IReadOnlyList<ShownVerdict> shown = await practice.WaitForVerdictsAsync(3, recording.Seconds + 10);

        Assert.Empty(shown[1].Lines);
        Assert.Equal(["missed", "clean", "clean"], shown.Select(verdict => verdict.Verdict));
        Assert.Contains(shown[0].Lines, line => line.Contains("late by", StringComparison.Ordinal) || line.Contains("early by", StringComparison.Ordinal));
        await Assertions.Expect(practice.Page.Locator("#verdict-limits")).ToContainTextAsync("long notes at least 1.5 times as long as short ones");
        await Assertions.Expect(practice.Page.Locator("#state-word")).ToHaveTextAsync("done");
        Assert.Empty(browser.Problems);
        Assert.NotEmpty(browser.Requests);
        Assert.Empty(browser.RequestsElsewhere(program.Address));
    }

    private static Passage Read(string name)
    {
        using FileStream midi = File.OpenRead(Path.Combine(AppContext.BaseDirectory, "demo", name + ".mid"));
        return MidiPassageReader.Read(midi);
    }
}
