using Microsoft.Playwright;

namespace EarCoach.EndToEndTests.Running;

/// <summary>A real browser without a window, whose microphone hears a WAV file.</summary>
internal sealed class Chromium : IAsyncDisposable
{
    private const string UsualPath = "/usr/bin/chromium";
    private readonly IPlaywright _playwright;
    private readonly string _profileFolder;

    private Chromium(IPlaywright playwright, IBrowserContext context, string profileFolder)
    {
        _playwright = playwright;
        Context = context;
        _profileFolder = profileFolder;
    }

    /// <summary>The browser.</summary>
    public IBrowserContext Context { get; }

    /// <summary>Every address the browser asked for, in order.</summary>
    public List<string> Requests { get; } = [];

    /// <summary>What went wrong in the page: uncaught errors and console errors.</summary>
    public List<string> Problems { get; } = [];

    /// <summary>Starts the browser.</summary>
    /// <param name="microphoneWav">What the microphone hears, once, from the moment it is opened; null: there is no microphone.</param>
    /// <param name="width">Width of the page in CSS pixels.</param>
    /// <param name="height">Height of the page in CSS pixels.</param>
    /// <param name="scheme">Light or dark.</param>
    public static async Task<Chromium> StartAsync(string? microphoneWav, int width = 1280, int height = 800, ColorScheme scheme = ColorScheme.Light)
    {
        string path = Environment.GetEnvironmentVariable("EARCOACH_CHROMIUM") ?? UsualPath;
        if (!File.Exists(path))
        {
            throw new FileNotFoundException($"The tests of the page need Chromium, and there is none at '{path}'. Install it (Debian: apt-get install chromium) or set EARCOACH_CHROMIUM to where it is.");
        }

        string profile = Directory.CreateTempSubdirectory("earcoach-browser-").FullName;
        IPlaywright playwright = await Playwright.CreateAsync();
        Assertions.SetDefaultExpectTimeout(20_000); // engraving takes seconds on a busy machine; where time itself is measured, the tests say so
        List<string> arguments =
        [
            "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update",
            "--disable-sync", "--autoplay-policy=no-user-gesture-required",
        ];
        if (microphoneWav is not null)
        {
            arguments.AddRange(["--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream", $"--use-file-for-fake-audio-capture={microphoneWav}%noloop"]);
        }

        IBrowserContext context = await playwright.Chromium.LaunchPersistentContextAsync(profile, new BrowserTypeLaunchPersistentContextOptions
        {
            ExecutablePath = path,
            Headless = true,
            Args = arguments,
            ViewportSize = new ViewportSize { Width = width, Height = height },
            ColorScheme = scheme,
        });
        Chromium browser = new(playwright, context, profile);
        context.Request += (_, request) => browser.Requests.Add(request.Url);
        context.WebError += (_, error) => browser.Problems.Add(error.Error);
        context.Console += (_, message) =>
        {
            if (message.Type == "error")
            {
                browser.Problems.Add(message.Text);
            }
        };
        return browser;
    }

    /// <summary>Opens the page and waits until it can be used.</summary>
    public async Task<IPage> OpenAsync(Uri address)
    {
        IPage page = Context.Pages.Count > 0 ? Context.Pages[0] : await Context.NewPageAsync();
        page.WebSocket += (_, socket) => Requests.Add(socket.Url);
        await page.GotoAsync(address.AbsoluteUri);
        await page.Locator("html[data-ready=true]").WaitForAsync(new LocatorWaitForOptions { State = WaitForSelectorState.Attached });
        return page;
    }

    /// <summary>Addresses that are not the program's own. Blobs and data never leave the browser.</summary>
    public IReadOnlyList<string> RequestsElsewhere(Uri address) => [.. Requests.Where(request =>
        new Uri(request) is var asked && asked.Scheme is not ("blob" or "data") && asked.Authority != address.Authority)];

    public async ValueTask DisposeAsync()
    {
        await Context.CloseAsync();
        _playwright.Dispose();
        try
        {
            Directory.Delete(_profileFolder, recursive: true);
        }
        catch (IOException)
        {
            // The browser may still hold a file for a moment; the folder lies in the system's temporary folder.
        }
    }
}
