using System.Net.WebSockets;
using EarCoach.App.Web.Practice;
using EarCoach.App.Web.Sockets;

namespace EarCoach.App.Web.Endpoints;

/// <summary>The two sockets: sound from the page, news to it.</summary>
internal static class SocketEndpoints
{
    /// <summary>Adds them.</summary>
    public static void Map(IEndpointRouteBuilder routes, PracticeDesk desk, IHostApplicationLifetime life)
    {
        routes.MapGet("/api/sound", context => ServeAsync(context, life, (socket, stop) => SoundSocket.ServeAsync(socket, desk, stop)));
        routes.MapGet("/api/feed", context => ServeAsync(context, life, (socket, stop) => FeedSocket.ServeAsync(socket, desk, stop)));
    }

    private static async Task ServeAsync(HttpContext context, IHostApplicationLifetime life, Func<WebSocket, CancellationToken, Task> serve)
    {
        if (!context.WebSockets.IsWebSocketRequest)
        {
            context.Response.StatusCode = StatusCodes.Status426UpgradeRequired;
            await context.Response.WriteAsJsonAsync(new { message = "This address speaks WebSocket only." });
            return;
        }

        using CancellationTokenSource stop = CancellationTokenSource.CreateLinkedTokenSource(context.RequestAborted, life.ApplicationStopping);
        using WebSocket socket = await context.WebSockets.AcceptWebSocketAsync();
        await serve(socket, stop.Token);
    }
}
