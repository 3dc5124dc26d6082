using EarCoach.App.Web.Library;
using EarCoach.App.Web.Messages;
using EarCoach.App.Web.Practice;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Scores;
using EarCoach.Storage;

namespace EarCoach.App.Web.Endpoints;

/// <summary>New passages: from files, and typed. A file is sent again with each choice; nothing is kept before it is saved.</summary>
internal static class ImportEndpoints
{
    /// <summary>Adds them.</summary>
    public static void Map(IEndpointRouteBuilder routes, SqliteStore store, TimeProvider time)
    {
        routes.MapGet("/api/instruments", () => InstrumentChoices.All);
        routes.MapPost("/api/import/contents", async (HttpRequest request) => ImportedScore.Describe(await BytesOf(request)));
        routes.MapPost("/api/import/preview", async (HttpRequest request, [AsParameters] ImportChoice choice) =>
        {
            byte[] bytes = await BytesOf(request);
            return LibraryViews.Of(Usable(() => ImportedScore.Read(bytes, choice)));
        });
        routes.MapPost("/api/import/save", async (HttpRequest request, [AsParameters] ImportChoice choice) =>
        {
            byte[] bytes = await BytesOf(request);
            return Keep(store, time, Usable(() => ImportedScore.Read(bytes, choice)).Passage, LibraryEdits.TagsOf((choice.Tags ?? string.Empty).Split(',')));
        });
        routes.MapPost("/api/typed/preview", (PageTyped typed) => LibraryViews.Of(Usable(() => new ScoreReading(TypedScore.Read(typed), []))));
        routes.MapPost("/api/typed/save", (PageTyped typed) => Keep(store, time, Usable(() => new ScoreReading(TypedScore.Read(typed), [])).Passage, []));
    }

    private static object Keep(SqliteStore store, TimeProvider time, Passage passage, IEnumerable<string> tags)
    {
        LibraryPassage kept = new() { Id = Guid.NewGuid(), Passage = passage, AddedAt = time.GetLocalNow(), Tags = [.. tags] };
        store.Passages.Save(kept);
        return new { kept.Id };
    }

    /// <summary>A note can fall out of MIDI's range through a transposition: that is for the player to change.</summary>
    private static ScoreReading Usable(Func<ScoreReading> read)
    {
        try
        {
            return read();
        }
        catch (ArgumentException e)
        {
            throw new SetupException(e.Message);
        }
    }

    private static async Task<byte[]> BytesOf(HttpRequest request)
    {
        using MemoryStream bytes = new();
        await request.Body.CopyToAsync(bytes, request.HttpContext.RequestAborted);
        return bytes.ToArray();
    }
}
