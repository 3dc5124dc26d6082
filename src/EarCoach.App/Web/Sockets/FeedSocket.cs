using System.Net.WebSockets;
using EarCoach.App.Web.Messages;
using EarCoach.App.Web.Practice;
using EarCoach.Core.Listening;
using EarCoach.Engine.Sessions;

namespace EarCoach.App.Web.Sockets;

/// <summary>Tells a page the news of the session: first the session as it is, then whatever happens.</summary>
internal static class FeedSocket
{
    /// <summary>Serves one socket until it ends.</summary>
    public static async Task ServeAsync(WebSocket socket, PracticeDesk desk, CancellationToken stop)
    {
        using CancellationTokenSource ended = CancellationTokenSource.CreateLinkedTokenSource(stop);
        Task listening = DrainAsync(socket, ended);
        try
        {
            await TellAsync(socket, desk, ended.Token);
            if (socket.State == WebSocketState.Open)
            {
                await socket.CloseOutputAsync(WebSocketCloseStatus.NormalClosure, "", CancellationToken.None);
            }
        }
        catch (Exception e) when (e is OperationCanceledException or WebSocketException)
        {
            // The page was closed or reloaded, or the program stops.
        }

        await ended.CancelAsync();
        await listening;
    }

    /// <summary>Ends when the page was too slow for the news: it then connects again and begins with the session as it is.</summary>
    private static async Task TellAsync(WebSocket socket, PracticeDesk desk, CancellationToken stop)
    {
        // Subscribed first, looked at second: nothing can fall between.
        using FeedSubscription news = desk.Feed.Subscribe();
        await SendAsync(socket, desk.Session is { } session ? new { type = "view", view = PageViews.Of(session.View) } : new { type = "no-session" }, stop);
        double? a4Hz = null;
        await foreach (SessionEvent happened in news.News.ReadAllAsync(stop))
        {
            switch (happened)
            {
                case SessionEvent.Verdict verdict:
                    await SendAsync(socket, new { type = "verdict", view = PageViews.Of(verdict.View), effects = PageEffect.Of(verdict.Effects) }, stop);
                    break;
                case SessionEvent.Changed changed:
                    a4Hz = changed.View.Task?.A4Hz ?? a4Hz;
                    await SendAsync(socket, new { type = "view", view = PageViews.Of(changed.View), effects = PageEffect.Of(changed.Effects) }, stop);
                    break;
                case SessionEvent.SoundLost lost:
                    await SendAsync(socket, new { type = "sound-lost", text = lost.Sentence }, stop);
                    break;
                case SessionEvent.Live live:
                    await SendAsync(socket, LiveOf(live, a4Hz ?? desk.Session?.View.Task?.A4Hz ?? 440), stop);
                    break;
            }
        }
    }

    private static object LiveOf(SessionEvent.Live live, double a4Hz) => new
    {
        type = "live",
        at = Math.Round(live.AtSeconds, 4),
        midi = live.FrequencyHz is { } hz ? Math.Round(EqualTemperament.MidiOf(hz, a4Hz), 3) : (double?)null,
        dbfs = Math.Round(Math.Max(live.LevelDbfs, -120), 1),
        word = PageViews.WordOf(live.Word),
    };

    private static ValueTask SendAsync(WebSocket socket, object message, CancellationToken stop) =>
        socket.SendAsync(PageMessages.Write(message).AsMemory(), WebSocketMessageType.Text, endOfMessage: true, stop);

    /// <summary>The page says nothing here; reading is how its going away is noticed.</summary>
    private static async Task DrainAsync(WebSocket socket, CancellationTokenSource ended)
    {
        byte[] buffer = new byte[256];
        try
        {
            while ((await socket.ReceiveAsync(buffer.AsMemory(), ended.Token)).MessageType != WebSocketMessageType.Close)
            {
            }
        }
        catch (Exception e) when (e is OperationCanceledException or WebSocketException)
        {
            // Gone without a word.
        }

        await ended.CancelAsync();
    }
}
