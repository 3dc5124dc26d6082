using EarCoach.EndToEndTests.Running;
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

    private static async Task Shot(IPage page, string name, int width, ColorScheme scheme)
    {
        string folder = Directory.CreateDirectory(Path.Combine(AppContext.BaseDirectory, "screens")).FullName;
        await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, $"{name}-{width}-{scheme}.png") });
    }
}
