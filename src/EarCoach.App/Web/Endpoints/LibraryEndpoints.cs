using EarCoach.App.Web.Library;
using EarCoach.App.Web.Messages;
using EarCoach.Core.Passages;
using EarCoach.Engine;
using EarCoach.Engine.Ports;
using EarCoach.Storage;

namespace EarCoach.App.Web.Endpoints;

/// <summary>The player's passages: list, edit, cut, delete, take back, write to a file.</summary>
internal static class LibraryEndpoints
{
    /// <summary>Adds them.</summary>
    public static void Map(IEndpointRouteBuilder routes, SqliteStore store, TimeProvider time)
    {
        IPassageLibrary library = store.Passages;
        routes.MapGet("/api/library", (string? search) =>
        {
            IReadOnlyList<LibraryPassage> all = library.All();
            DateOnly today = DateOnly.FromDateTime(time.GetLocalNow().DateTime);
            return new PageLibrary(
                [.. all.Where(passage => LibrarySearch.Matches(passage, search)).Select(passage => LibraryViews.RowOf(passage, all, today))],
                all.Count,
                LibraryViews.Of(library.NewestChange()));
        });
        routes.MapGet("/api/library/{id:guid}", (Guid id) => OnePassage(library, id, passage => passage));
        routes.MapPut("/api/library/{id:guid}", (Guid id, PageLibraryEdit edit) => Change(library, id, passage => LibraryEdits.Apply(passage, edit)));
        routes.MapPost("/api/library/{id:guid}/instrument", (Guid id, PageInstrumentEdit edit) => Change(library, id, passage => LibraryEdits.Apply(passage, edit)));
        routes.MapPost("/api/library/{id:guid}/notes", (Guid id, PageNotesEdit edit) => Change(library, id, passage => LibraryEdits.Apply(passage, edit)));
        routes.MapPost("/api/library/{id:guid}/excerpts", (Guid id, PageExcerpt excerpt) =>
        {
            if (library.Find(id) is not { } part)
            {
                return PassageEndpoints.Gone();
            }

            LibraryPassage cut = LibraryEdits.ExcerptOf(part, excerpt, time.GetLocalNow());
            library.Save(cut);
            return Results.Ok(new { cut.Id, cut.Passage.Title });
        });
        routes.MapDelete("/api/library/{id:guid}", (Guid id) => library.Delete(id) ? Results.NoContent() : PassageEndpoints.Gone());
        routes.MapGet("/api/library/undo", () => new { undo = LibraryViews.Of(library.NewestChange()) });
        routes.MapPost("/api/library/undo", (PageUndo undo) => library.Undo(undo.Number)
            ? Results.NoContent()
            : Results.Conflict(new { message = "That change is no longer the newest one. Look at the library again." }));
        routes.MapGet("/api/passages/{id:guid}/export", (Guid id, string? format, [AsParameters] ExportFile which) =>
        {
            if (library.Find(id) is not { } kept)
            {
                return PassageEndpoints.Gone();
            }

            Passage passage = which.Of(kept.Passage);
            (byte[] bytes, string mediaType, string ending) = ExportFile.Write(passage, format);
            return Results.File(bytes, mediaType, ExportFile.NameOf(passage.Title) + ending);
        });
    }

    private static IResult Change(IPassageLibrary library, Guid id, Func<LibraryPassage, LibraryPassage> change) => OnePassage(library, id, before =>
    {
        LibraryPassage after = change(before);
        library.Save(after);
        return after;
    });

    private static IResult OnePassage(IPassageLibrary library, Guid id, Func<LibraryPassage, LibraryPassage> work)
    {
        if (library.Find(id) is not { } found)
        {
            return PassageEndpoints.Gone();
        }

        LibraryPassage passage = work(found);
        return Results.Ok(LibraryViews.Of(passage, passage.PartId is { } part ? library.Find(part) : null));
    }
}
