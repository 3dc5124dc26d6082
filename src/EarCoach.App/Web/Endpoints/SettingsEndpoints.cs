using System.Text.Json;
using EarCoach.App.Web.Practice;
using EarCoach.Storage;

namespace EarCoach.App.Web.Endpoints;

/// <summary>What the player set on the page: kept as the page wrote it.</summary>
internal static class SettingsEndpoints
{
    private const int MostCharacters = 64 * 1024;

    /// <summary>Adds them.</summary>
    public static void Map(IEndpointRouteBuilder routes, SqliteStore store)
    {
        routes.MapGet("/api/settings", () => Results.Text(store.Settings.Read(KeptSound.PageSettings) ?? "{}", "application/json"));
        routes.MapPut("/api/settings", (JsonElement settings) =>
        {
            string text = settings.GetRawText();
            if (settings.ValueKind != JsonValueKind.Object || text.Length > MostCharacters)
            {
                return Results.BadRequest(new { message = $"Settings have to be one JSON object of at most {MostCharacters} characters." });
            }

            store.Settings.Write(KeptSound.PageSettings, text);
            return Results.NoContent();
        });
    }
}
