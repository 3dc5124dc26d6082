using EarCoach.App.Web.Library;
using EarCoach.App.Web.Messages;
using EarCoach.App.Web.Practice;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Storage;

namespace EarCoach.App.Web.Endpoints;

/// <summary>What can be practised.</summary>
internal static class PassageEndpoints
{
    /// <summary>Adds them.</summary>
    public static void Map(IEndpointRouteBuilder routes, SqliteStore store, DemoPassages demos)
    {
        routes.MapGet("/api/choices", () =>
        {
            IReadOnlyList<LibraryPassage> passages = store.Passages.All();
            return new PageChoices(
                [.. passages.OrderBy(passage => passage.IsDemo).Select(passage => ChoiceOf(passage, demos))],
                DrillCatalogue.All);
        });

        routes.MapGet("/api/passages/{id:guid}/strictness", (Guid id) => store.Passages.Find(id) is { } passage
            ? Results.Ok(StrictnessCatalogue.For(passage))
            : Gone());

        routes.MapGet("/api/passages/{id:guid}/score", (Guid id, [AsParameters] ExportFile which) => store.Passages.Find(id) is { } passage
            ? Results.Text(ShownScore.Of(which.Of(passage.Passage)), ShownScore.MediaType)
            : Gone());

        routes.MapGet("/api/passages/{id:guid}/variants", (Guid id) => store.Passages.Find(id) is { } passage
            ? Results.Ok(LibraryViews.VariantsOf(passage.Passage))
            : Gone());

        routes.MapGet("/api/demo/{name}", (string name) => demos.PathOf(name) is { } path
            ? Results.File(path, "audio/wav", enableRangeProcessing: true)
            : Results.NotFound(new { message = "There is no such demo recording." }));
    }

    /// <summary>The answer where a passage is asked for that is not there.</summary>
    public static IResult Gone() => Results.NotFound(new { message = "That passage is no longer in the library." });

    private static PagePassageChoice ChoiceOf(LibraryPassage kept, DemoPassages demos)
    {
        Passage passage = kept.Passage;
        BarMap bars = new(passage);
        return new PagePassageChoice
        {
            Id = kept.Id,
            Name = passage.Title,
            Instrument = InstrumentTable.ById(passage.InstrumentId)?.Name ?? "",
            Notes = passage.Notes.Length,
            Bars = bars.PositionOf(passage.Notes[^1].Onset).Bar - bars.StartBar + 1,
            QuartersPerMinute = kept.GoalQuartersPerMinute ?? passage.Tempi[0].QuartersPerMinute,
            Transposition = PageViews.TranspositionOf(passage),
            DemoRecording = demos.RecordingOf(kept) is { } name ? $"/api/demo/{name}" : null,
        };
    }
}
