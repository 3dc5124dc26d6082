using System.Diagnostics;
using EarCoach.Core.Judging;
using EarCoach.EndToEndTests.Running;
using EarCoach.EndToEndTests.Sound;
using EarCoach.Engine.Ports;
using EarCoach.Storage;
using Microsoft.Playwright;
using Xunit;
using Xunit.Abstractions;

namespace EarCoach.EndToEndTests;

/// <summary>The program is killed at random moments while someone plays, and started again. The page stays open, as it would.</summary>
public sealed class KillTests(ITestOutputHelper output)
{
    private const int Kills = 50;
    private const int CleanInARow = 3;

    [Fact]
    public async Task KilledAtRandomMoments_LosesNothingThatWasShown_AndTheCountContinues()
    {
        using TemporaryFolder data = new();
        // Two notes, so that a verdict comes about every second.
        ShortCall.Add(data.Path, ShortCall.Passage with { Notes = [.. ShortCall.Passage.Notes.Take(2)] });
        Recording recording = new(44_100);
        for (int i = 0; recording.Seconds < 300; i++)
        {
            IReadOnlyList<PlayedNote> clean = ShortCall.Part(0, 2);
            recording.Play(i % 5 == 4 ? [clean[0], clean[1] with { Midi = clean[1].Midi + 1 }] : clean, silenceAfterSeconds: 0.6);
        }

        string wav = recording.Write(data.Path, "kills.wav");
        EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        try
        {
            await using Chromium browser = await Chromium.StartAsync(wav);
            PracticePage practice = await PracticePage.OpenAsync(browser, program.Address);
            await practice.ChooseAsync(ShortCall.Title, "proof", "amateur", ("sets", "30"), ("cleanInARow", $"{CleanInARow}"));
            await practice.StartAsync();
            await practice.WaitForVerdictsAsync(1, 20);

            int port = program.Address.Port;
            Random moments = new(20261125);
            for (int kill = 1; kill <= Kills; kill++)
            {
                await Task.Delay(moments.Next(100, 2400));
                program.KillAtOnce();
                program.Dispose();
                await Task.Delay(150); // what was already on its way to the page is shown
                IReadOnlyList<ShownVerdict> shown = await practice.ShownAsync();
                int judged = CheckStore(data.Path, shown, kill).Count;
                program = await EarCoachProcess.StartAsync(data.Path, port);
                await Assertions.Expect(practice.Page.Locator("#notice")).ToBeHiddenAsync(new LocatorAssertionsToBeHiddenOptions { Timeout = 10_000 });
                await CheckCount(practice, data.Path, kill, judged);
            }

            IReadOnlyList<ShownVerdict> all = await practice.ShownAsync();
            output.WriteLine($"{Kills} kills; {all.Count} verdicts shown: {all.Count(v => v.Verdict == "clean")} clean, {all.Count(v => v.Verdict == "missed")} missed, {all.Count(v => v.Verdict == "not-counted")} not counted.");
            Assert.True(all.Count >= 20, $"Only {all.Count} verdicts were shown during {Kills} kills: the session did not really go on.");
        }
        finally
        {
            program.Dispose();
        }
    }

    /// <summary>Every verdict that was shown lies in the store, the same, with its sound. Returns the count as a player would keep it, after each attempt.</summary>
    private static List<(int Seals, int Count)> CheckStore(string folder, IReadOnlyList<ShownVerdict> shown, int kill)
    {
        using SqliteStore store = SqliteStore.Open(folder);
        SessionRecord session = store.Attempts.NewestUnfinished() ?? throw new InvalidOperationException($"Kill {kill}: the session is gone.");
        Dictionary<int, JudgedAttempt> kept = store.Attempts.AttemptsOf(session.Start.SessionId).ToDictionary(attempt => attempt.Number);
        foreach (ShownVerdict verdict in shown)
        {
            Assert.True(kept.TryGetValue(verdict.Number, out JudgedAttempt? attempt), $"Kill {kill}: verdict {verdict.Number} was shown and is not in the store.");
            Assert.Equal(verdict.Verdict, FaultNames.Of(attempt!.Result.Verdict));
            byte[]? clip = store.Attempts.ClipOf(session.Start.SessionId, verdict.Number);
            Assert.True(clip is { Length: > 44 }, $"Kill {kill}: verdict {verdict.Number} has no sound in the store.");
        }

        List<(int Seals, int Count)> counts = [];
        int seals = 0;
        int count = 0;
        foreach (JudgedAttempt attempt in kept.Values.OrderBy(attempt => attempt.Number))
        {
            count = attempt.Result.Verdict switch { Verdict.Clean => count + 1, Verdict.Missed => 0, _ => count };
            (seals, count) = count == CleanInARow ? (seals + 1, 0) : (seals, count);
            counts.Add((seals, count));
        }

        return counts;
    }

    /// <summary>Within a second the page shows the count that was stored at the kill, or after an attempt that has been judged since.</summary>
    private static async Task CheckCount(PracticePage practice, string folder, int kill, int judged)
    {
        ILocator place = practice.Page.Locator("#count");
        Stopwatch waited = Stopwatch.StartNew();
        while (true)
        {
            // The page first: what it shows was stored before.
            string shown = $"{await place.GetAttributeAsync("data-seals")} {await place.GetAttributeAsync("data-count")}";
            string[] stored = [.. CheckStore(folder, [], kill).Skip(judged - 1).Select(after => $"{after.Seals} {after.Count}")];
            if (stored.Contains(shown))
            {
                return;
            }

            Assert.True(waited.Elapsed < TimeSpan.FromSeconds(1), $"Kill {kill}: the page shows seals and count '{shown}', the store gives '{string.Join("', '", stored)}'.");
        }
    }
}
