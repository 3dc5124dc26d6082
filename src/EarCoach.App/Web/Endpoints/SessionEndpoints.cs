using System.Collections.Immutable;
using EarCoach.App.Web.Messages;
using EarCoach.App.Web.Practice;
using EarCoach.Core.Passages;
using EarCoach.Engine.Sessions;
using EarCoach.Engine.Wording;
using EarCoach.Storage;

namespace EarCoach.App.Web.Endpoints;

/// <summary>The session under way, and what was done in it.</summary>
internal static class SessionEndpoints
{
    private static readonly Dictionary<string, Action<PracticeSession>> _commands = new(StringComparer.Ordinal)
    {
        ["pause"] = session => session.Pause(),
        ["resume"] = session => session.Resume(),
        ["dispute"] = session => session.Dispute(),
        ["repeat"] = session => session.Repeat(),
        ["skip"] = session => session.Skip(),
        ["end-rest"] = session => session.EndRest(),
    };

    /// <summary>Adds them.</summary>
    public static void Map(IEndpointRouteBuilder routes, PracticeDesk desk, SqliteStore store)
    {
        routes.MapPost("/api/session", (PageSetup setup) => PageViews.Of(desk.Begin(setup).View));
        routes.MapGet("/api/session/numbers", () => desk.Numbers());
        routes.MapPost("/api/session/numbers", (PageNumberChange change) =>
        {
            desk.Change(change);
            return Results.NoContent();
        });
        routes.MapPost("/api/session/commands", (PageCommand command) => Do(command, desk));
        routes.MapGet("/api/session/summary", () => desk.LastSessionId is { } id ? Summary(id, desk, store) : Results.Ok(new { }));
        routes.MapGet("/api/sessions/{id:guid}/score", (Guid id, [AsParameters] ScoreChoice choice) => Score(store, id, choice));
        routes.MapGet("/api/sessions/{id:guid}/attempts/{number:int}/clip", (Guid id, int number) => store.Attempts.ClipOf(id, number) is { } wav
            ? Results.Bytes(wav, "audio/wav", enableRangeProcessing: true)
            : Results.NotFound(new { message = "There is no sound of that attempt." }));
    }

    private static IResult Do(PageCommand command, PracticeDesk desk)
    {
        if (command.Command == "end")
        {
            desk.End();
            return Results.NoContent();
        }

        if (!_commands.TryGetValue(command.Command ?? "", out Action<PracticeSession>? action))
        {
            return Results.BadRequest(new { message = $"'{command.Command}' is no command; there are {string.Join(", ", _commands.Keys)} and end." });
        }

        if (desk.Session is not { } session)
        {
            return Results.Conflict(new { message = "Nothing is being practised. Start a drill first." });
        }

        action(session);
        return Results.NoContent();
    }

    private static IResult Summary(Guid id, PracticeDesk desk, SqliteStore store)
    {
        if (store.Attempts.Find(id) is not { } record)
        {
            return Results.Ok(new { });
        }

        SessionView view = desk.Session is { } now && now.Id == id ? now.View : PracticeSession.TakeUp(record, store.Attempts, desk.Feed, TimeProvider.System).View;
        VerdictWording wording = new([.. record.Start.Passages.Select(passage => passage.Passage)]);
        return Results.Ok(new
        {
            view = PageViews.Of(view),
            attempts = store.Attempts.AttemptsOf(id).Select((attempt, i) => PageViews.AttemptOf(id, wording.ReportOf(attempt), record.Start.Passages, place: i + 1)),
        });
    }

    private static IResult Score(SqliteStore store, Guid id, ScoreChoice choice)
    {
        if (store.Attempts.Find(id) is not { } record || choice.Passage < 0 || choice.Passage >= record.Start.Passages.Length)
        {
            return Results.NotFound(new { message = "There is no such passage in that session." });
        }

        ImmutableArray<Passage> passages = [.. record.Start.Passages.Select(passage => passage.Passage)];
        try
        {
            return Results.Text(ShownScore.Of(ShownScore.PassageOf(choice.TaskIn(passages, record.Start.Plan), passages)), ShownScore.MediaType);
        }
        catch (ArgumentException e)
        {
            return Results.BadRequest(new { message = e.Message });
        }
    }
}
