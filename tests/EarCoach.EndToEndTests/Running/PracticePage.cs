using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.Playwright;

namespace EarCoach.EndToEndTests.Running;

/// <summary>The page as a player uses it, and a record of what it showed.</summary>
internal sealed class PracticePage(IPage page)
{
    // Writes down, with the next frame, every verdict and every live note that the page shows.
    private const string Watcher = """
        window.shown = { verdicts: [], notes: [], words: [] };
        const watch = () => {
          const verdict = document.getElementById("verdict");
          let last = "";
          new MutationObserver(() => {
            const key = `${verdict.dataset.number} ${verdict.dataset.verdict}`;
            if (!verdict.dataset.number || key === last) return;
            last = key;
            const count = document.getElementById("count").dataset;
            const entry = {
              number: Number(verdict.dataset.number), verdict: verdict.dataset.verdict,
              lines: [...document.querySelectorAll("#verdict-faults li")].map(line => line.textContent),
              count: Number(count.count), stage: Number(count.stage), seals: Number(count.seals), atMs: 0,
            };
            const mark = performance.getEntriesByName("capture").at(-1);
            if (mark) { entry.capturedSeconds = mark.detail.seconds; entry.capturedAtMs = mark.detail.wallMs; }
            requestAnimationFrame(() => { entry.atMs = performance.timeOrigin + performance.now(); window.shown.verdicts.push(entry); });
          }).observe(verdict, { attributes: true });
          const word = document.getElementById("state-word");
          new MutationObserver(() => window.shown.words.push(word.textContent)).observe(word, { childList: true, characterData: true, subtree: true });
          const note = document.getElementById("live-note");
          new MutationObserver(() => {
            const mark = performance.getEntriesByName("capture").at(-1);
            window.shown.notes.push({ note: note.textContent, atMs: performance.timeOrigin + performance.now(), capturedSeconds: mark?.detail.seconds, capturedAtMs: mark?.detail.wallMs });
          }).observe(note, { childList: true, characterData: true, subtree: true });
        };
        addEventListener("DOMContentLoaded", watch);
        """;

    private static readonly JsonSerializerOptions _json = new(JsonSerializerDefaults.Web);

    /// <summary>The browser's page.</summary>
    public IPage Page => page;

    /// <summary>Opens the page in the browser.</summary>
    /// <param name="browser">The browser.</param>
    /// <param name="address">Where the program is.</param>
    /// <param name="settings">What was set on the page before; null: nothing.</param>
    public static async Task<PracticePage> OpenAsync(Chromium browser, Uri address, object? settings = null)
    {
        if (settings is not null)
        {
            using HttpClient client = new();
            using HttpResponseMessage answer = await client.PutAsJsonAsync(new Uri(address, "/api/settings"), settings);
            answer.EnsureSuccessStatusCode();
        }

        await browser.Context.AddInitScriptAsync(Watcher);
        return new PracticePage(await browser.OpenAsync(address));
    }

    /// <summary>Chooses on the first screen, as a player does, by what stands there.</summary>
    public async Task ChooseAsync(string passage, string drill, string strictness, params (string Number, string Value)[] numbers)
    {
        await page.Locator("#passage-list label", new PageLocatorOptions { HasText = passage }).ClickAsync();
        await page.Locator($"#drill-list input[value={drill}]").CheckAsync();
        await page.Locator($"#strictness-list input[value={strictness}]").CheckAsync();
        await page.Locator("#strictness-more summary").ClickAsync();
        foreach ((string number, string value) in numbers)
        {
            ILocator field = page.Locator($"#setup-form [name={number}]");
            if (await field.EvaluateAsync<bool>("field => field instanceof HTMLSelectElement"))
            {
                await field.SelectOptionAsync(value);
            }
            else
            {
                await field.FillAsync(value);
                await field.DispatchEventAsync("change");
            }
        }
    }

    /// <summary>Starts with the microphone and waits for the playing screen.</summary>
    public async Task StartAsync()
    {
        await page.Locator("#start").ClickAsync();
        await page.Locator("#screen-play").WaitForAsync();
    }

    /// <summary>Every verdict shown since the page was loaded.</summary>
    public async Task<IReadOnlyList<ShownVerdict>> ShownAsync() =>
        JsonSerializer.Deserialize<ShownVerdict[]>(await page.EvaluateAsync<string>("JSON.stringify(window.shown.verdicts)"), _json)!;

    /// <summary>Every live note shown since the page was loaded: its name, when, and the captured second at that time.</summary>
    public async Task<IReadOnlyList<ShownNote>> NotesAsync() =>
        JsonSerializer.Deserialize<ShownNote[]>(await page.EvaluateAsync<string>("JSON.stringify(window.shown.notes)"), _json)!;

    /// <summary>Every state in one word that the page showed, in order.</summary>
    public async Task<IReadOnlyList<string>> WordsAsync() => await page.EvaluateAsync<string[]>("window.shown.words");

    /// <summary>Waits until so many verdicts were shown since the page was loaded.</summary>
    public async Task<IReadOnlyList<ShownVerdict>> WaitForVerdictsAsync(int count, double seconds)
    {
        DateTime end = DateTime.UtcNow.AddSeconds(seconds);
        while (true)
        {
            IReadOnlyList<ShownVerdict> shown = await ShownAsync();
            if (shown.Count >= count)
            {
                return shown;
            }

            if (DateTime.UtcNow > end)
            {
                throw new TimeoutException($"{count} verdicts were expected within {seconds} s; the page showed {shown.Count}: {ShownVerdict.InWords(shown)}. State: {await page.Locator("#state-word").TextContentAsync()}.");
            }

            await Task.Delay(50);
        }
    }
}
