using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Net.WebSockets;
using System.Runtime.InteropServices;
using System.Text.Json;
using EarCoach.App.Web.Messages;
using EarCoach.App.Web.Practice;

namespace EarCoach.App.Web.Sockets;

/// <summary>Takes the sound from the page: first a text message with the granted rate, then binary blocks with their running index.</summary>
internal static class SoundSocket
{
    /// <summary>Another window of the page took over: the page must not try again by itself.</summary>
    public const WebSocketCloseStatus TakenOver = (WebSocketCloseStatus)4001;

    private const int HeaderBytes = sizeof(long);
    private const int MostBytes = 1 << 20; // over 1 s of sound at the highest rate

    private const int MostCueTones = 8;

    // Past the sound of the cue itself: the way to the loudspeaker, the room, and back into the microphone.
    private const double CueTailSeconds = 0.35;

    /// <summary>Serves one socket until it ends.</summary>
    public static async Task ServeAsync(WebSocket socket, PracticeDesk desk, CancellationToken stop)
    {
        byte[] buffer = new byte[MostBytes];
        SoundInput? sound = null;
        using CancellationTokenSource displaced = CancellationTokenSource.CreateLinkedTokenSource(stop);
        try
        {
            if (await ReceiveAsync(socket, buffer, stop) is not (WebSocketMessageType.Text, int length) || Parse(buffer, length) is not { Type: "hello" } hello)
            {
                await RefuseAsync(socket, "The first message has to be a hello with the sample rate.", stop);
                return;
            }

            if (!(hello.RateHz is >= 16_000 and <= 192_000) || hello.RateHz != Math.Floor(hello.RateHz))
            {
                await RefuseAsync(socket, $"The microphone runs at {hello.RateHz} samples a second; 16000 to 192000 can be used.", stop);
                return;
            }

            sound = desk.OpenSound((int)hello.RateHz, displaced.Cancel);
            await HearAsync(socket, sound, buffer, displaced.Token);
        }
        catch (OperationCanceledException) when (displaced.IsCancellationRequested && !stop.IsCancellationRequested)
        {
            await CloseAsync(socket, TakenOver, "Another window of this page listens now.");
        }
        catch (Exception e) when (e is OperationCanceledException or WebSocketException)
        {
            // The page was closed or reloaded, or the program stops: nothing to tell anyone.
        }
        finally
        {
            if (sound is not null)
            {
                desk.CloseSound(sound);
            }
        }
    }

    private static async Task HearAsync(WebSocket socket, SoundInput sound, byte[] buffer, CancellationToken stop)
    {
        long toldClockStart = -1;
        while (await ReceiveAsync(socket, buffer, stop) is (WebSocketMessageType type, int length))
        {
            if (type == WebSocketMessageType.Text)
            {
                if (Parse(buffer, length) is { Type: "cue" } cue)
                {
                    ImmutableArray<double> tones = [.. (cue.TonesHz ?? []).Where(tone => tone is > 0 and < 20_000).Take(MostCueTones)];
                    sound.ExpectCue(tones, (Math.Clamp(cue.DurationMs, 0, 1000) / 1000) + CueTailSeconds);
                }

                continue;
            }

            if (length < HeaderBytes || (length - HeaderBytes) % sizeof(float) != 0 || !sound.Hear(IndexOf(buffer), SamplesOf(buffer, length)))
            {
                await RefuseAsync(socket, "A block has to begin with its index, which never runs backwards, and hold whole 32-bit samples.", stop);
                return;
            }

            if (sound.ClockStart != toldClockStart)
            {
                toldClockStart = sound.ClockStart;
                await socket.SendAsync(PageMessages.Write(new { type = "clock", start = toldClockStart }), WebSocketMessageType.Text, true, stop);
            }
        }

        await CloseAsync(socket, WebSocketCloseStatus.NormalClosure, "");
    }

    private static long IndexOf(byte[] buffer) => BinaryPrimitives.ReadInt64LittleEndian(buffer);

    private static ReadOnlySpan<float> SamplesOf(byte[] buffer, int length)
    {
        Span<float> samples = MemoryMarshal.Cast<byte, float>(buffer.AsSpan(HeaderBytes, length - HeaderBytes));
        foreach (ref float sample in samples)
        {
            sample = float.IsFinite(sample) ? sample : 0;
        }

        return samples;
    }

    /// <summary>One whole message; null when the other side closed. A message that does not fit is an end, too.</summary>
    private static async Task<(WebSocketMessageType Type, int Length)?> ReceiveAsync(WebSocket socket, byte[] buffer, CancellationToken stop)
    {
        int length = 0;
        while (true)
        {
            ValueWebSocketReceiveResult part = await socket.ReceiveAsync(buffer.AsMemory(length), stop);
            if (part.MessageType == WebSocketMessageType.Close)
            {
                return null;
            }

            length += part.Count;
            if (part.EndOfMessage)
            {
                return (part.MessageType, length);
            }

            if (length == buffer.Length)
            {
                return null;
            }
        }
    }

    private static SoundHello? Parse(byte[] buffer, int length)
    {
        try
        {
            return JsonSerializer.Deserialize<SoundHello>(buffer.AsSpan(0, length), PageMessages.Options);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private static Task RefuseAsync(WebSocket socket, string reason, CancellationToken stop) =>
        socket.State == WebSocketState.Open ? socket.CloseAsync(WebSocketCloseStatus.PolicyViolation, reason, stop) : Task.CompletedTask;

    private static async Task CloseAsync(WebSocket socket, WebSocketCloseStatus status, string reason)
    {
        try
        {
            if (socket.State is WebSocketState.Open or WebSocketState.CloseReceived)
            {
                await socket.CloseOutputAsync(status, reason, CancellationToken.None);
            }
        }
        catch (WebSocketException)
        {
            // The other side is gone already.
        }
    }
}
