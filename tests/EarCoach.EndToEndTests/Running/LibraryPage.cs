using System.Text;
using Microsoft.Playwright;

namespace EarCoach.EndToEndTests.Running;

/// <summary>The library as a player uses it.</summary>
internal static class LibraryPage
{
    /// <summary>Drops a file on the page, as from the desktop.</summary>
    public static async Task DropAsync(this IPage page, string name, byte[] content)
    {
        IJSHandle transfer = await page.EvaluateHandleAsync(
            """
            ([name, base64]) => {
              const transfer = new DataTransfer();
              transfer.items.add(new File([Uint8Array.from(atob(base64), sign => sign.charCodeAt(0))], name));
              return transfer;
            }
            """,
            new[] { name, Convert.ToBase64String(content) });
        foreach (string type in (string[])["dragenter", "dragover", "drop"])
        {
            await page.DispatchEventAsync("body", type, new { dataTransfer = transfer });
        }
    }

    /// <summary>Drops a text file.</summary>
    public static Task DropAsync(this IPage page, string name, string content) => page.DropAsync(name, Encoding.UTF8.GetBytes(content));

    /// <summary>Chooses an instrument by some letters and its name.</summary>
    public static async Task ChooseInstrumentAsync(this IPage page, string place, string letters, string name)
    {
        await page.Locator($"{place} input[type=search]").FillAsync(letters);
        await page.Locator($"{place} select[size]").SelectOptionAsync(new SelectOptionValue { Label = name });
    }

    /// <summary>How many steps above the lowest line of the staff each note is drawn: the picture itself is measured, not the data behind it.</summary>
    public static async Task<int[]> StepsAboveLowestLineAsync(this IPage page, string notation, int notes) => await page.EvaluateAsync<int[]>(
        """
        ([place, notes]) => Array.from({ length: notes }, (_, index) => {
          const note = document.querySelector(`${place} [id="n${index}"]`);
          const head = note.querySelector(".notehead").getBoundingClientRect();
          const lines = [...note.closest(".staff").querySelectorAll(":scope > path")].map(line => line.getBoundingClientRect()).map(box => box.top + box.height / 2).sort((a, b) => b - a);
          const step = (lines[0] - lines[4]) / 8;
          return Math.round((lines[0] - (head.top + head.height / 2)) / step);
        })
        """,
        new object[] { notation, notes });

    /// <summary>Takes a picture for a person to look at: they lie beside the tests, in screens/.</summary>
    public static async Task ShotAsync(this IPage page, string name)
    {
        string folder = Directory.CreateDirectory(Path.Combine(AppContext.BaseDirectory, "screens")).FullName;
        ViewportSize? size = page.ViewportSize is { } viewport ? new ViewportSize { Width = viewport.Width, Height = viewport.Height } : null;
        await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, $"{name}-{size?.Width}.png"), FullPage = true });
    }
}
