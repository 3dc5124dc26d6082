using System.Text.Json;
using EarCoach.Engine.Ports;

namespace EarCoach.App.Web.Practice;

/// <summary>Keeps the sound of attempts within the room that the player gives it: the oldest clips go first, verdicts never.</summary>
internal sealed class KeptSound(IClipArchive clips, ISettingsStore settings)
{
    /// <summary>Where the page keeps what the player set, as JSON.</summary>
    public const string PageSettings = "page.settings";

    private const double UsualMegabytes = 2_000; // about six hours of attempts at 48 kHz
    private const double LeastMegabytes = 50;
    private const double BytesAMegabyte = 1_000_000;

    /// <summary>The room there is, in bytes.</summary>
    public long MostBytes
    {
        get
        {
            double? asked = null;
            if (settings.Read(PageSettings) is { } text)
            {
                using JsonDocument set = JsonDocument.Parse(text);
                if (set.RootElement.TryGetProperty("keepMegabytes", out JsonElement number) && number.ValueKind == JsonValueKind.Number)
                {
                    asked = number.GetDouble();
                }
            }

            return (long)(Math.Clamp(asked ?? UsualMegabytes, LeastMegabytes, 1e6) * BytesAMegabyte);
        }
    }

    /// <summary>Forgets what is too much.</summary>
    public void Tidy() => clips.ForgetOldest(MostBytes);
}
