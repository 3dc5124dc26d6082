using System.Buffers.Binary;
using System.Net.Http.Json;
using System.Net.WebSockets;
using System.Runtime.InteropServices;
using System.Text.Json;
using EarCoach.EndToEndTests.Running;
using EarCoach.EndToEndTests.Sound;
using EarCoach.Storage;
using Xunit;

namespace EarCoach.EndToEndTests;

/// <summary>The sound socket without a browser: what a page does, and what it must not do.</summary>
public sealed class SoundSocketTests
{
    private const int Rate = 44_100;
    private const int BlockSamples = 441;

    [Fact]
    public async Task AHoleInTheIndex_IsToldInWords_AndTheAttemptItFallsIntoIsNotCounted()
    {
        using TemporaryFolder data = new();
        ShortCall.AddTo(data.Path);
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await BeginAsync(program.Address, data.Path);
        using ClientWebSocket feed = await OpenAsync(program.Address, "/api/feed");
        Task<List<JsonElement>> news = ReadNewsAsync(feed, verdicts: 3);

        // Three clean attempts; 30 ms of the second never arrive.
        Recording recording = new Recording(Rate).Play(ShortCall.Clean).Play(ShortCall.Clean).Play(ShortCall.Clean);
        float[] samples = recording.Samples;
        int holeFrom = (int)((recording.StartsSeconds[1] + 0.4) * Rate) / BlockSamples * BlockSamples;
        using ClientWebSocket sound = await OpenAsync(program.Address, "/api/sound");
        await TellAsync(sound, new { type = "hello", rateHz = Rate });
        for (int at = 0; at + BlockSamples <= samples.Length; at += BlockSamples)
        {
            if (at < holeFrom || at >= holeFrom + (3 * BlockSamples))
            {
                await sound.SendAsync(BlockOf(at, samples.AsSpan(at, BlockSamples)), WebSocketMessageType.Binary, endOfMessage: true, CancellationToken.None);
            }
        }

        List<JsonElement> told = await news.WaitAsync(TimeSpan.FromSeconds(30));
        Assert.Equal("Sound was lost on the way (30 ms). An attempt that it falls into is not counted.",
            Assert.Single(told, message => message.GetProperty("type").GetString() == "sound-lost").GetProperty("text").GetString());
        JsonElement[] views = [.. told.Where(message => message.GetProperty("type").GetString() == "verdict").Select(message => message.GetProperty("view"))];
        Assert.Equal(["clean", "not-counted", "clean"], views.Select(view => view.GetProperty("last").GetProperty("verdict").GetString()));
        Assert.Equal([1, 1, 2], views.Select(view => view.GetProperty("drill").GetProperty("count").GetInt32()));
        Assert.Contains("sound was lost", views[1].GetProperty("last").GetProperty("headline").GetString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true, new[] { "clean", "clean" })]
    [InlineData(false, new[] { "clean", "missed", "clean" })] // unannounced, the same sound is somebody playing
    public async Task ACueThatIsAnnounced_IsNotHeard(bool announced, string[] expected)
    {
        using TemporaryFolder data = new();
        ShortCall.AddTo(data.Path);
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        await BeginAsync(program.Address, data.Path);
        using ClientWebSocket feed = await OpenAsync(program.Address, "/api/feed");
        Task<List<JsonElement>> news = ReadNewsAsync(feed, expected.Length);

        // What the microphone hears of a cue: two tones away from the call's own notes. It is announced when it begins to sound.
        PlayedNote[] cue = [new(73, 0, 0.11), new(78, 0.14, 0.16)];
        Recording recording = new Recording(Rate).Play(ShortCall.Clean).Play(cue).Play(ShortCall.Clean);
        float[] samples = recording.Samples;
        int cueAt = (int)(recording.StartsSeconds[1] * Rate) / BlockSamples * BlockSamples;
        using ClientWebSocket sound = await OpenAsync(program.Address, "/api/sound");
        await TellAsync(sound, new { type = "hello", rateHz = Rate });
        for (int at = 0; at + BlockSamples <= samples.Length; at += BlockSamples)
        {
            if (announced && at == cueAt)
            {
                await TellAsync(sound, new { type = "cue", durationMs = 300, tonesHz = new[] { 554.365, 739.989 } });
            }

            await sound.SendAsync(BlockOf(at, samples.AsSpan(at, BlockSamples)), WebSocketMessageType.Binary, endOfMessage: true, CancellationToken.None);
        }

        List<JsonElement> told = await news.WaitAsync(TimeSpan.FromSeconds(30));
        Assert.Equal(expected, told.Where(message => message.GetProperty("type").GetString() == "verdict")
            .Select(message => message.GetProperty("view").GetProperty("last").GetProperty("verdict").GetString()));
    }

    [Fact]
    public async Task AnIndexThatRunsBackwards_IsRefused()
    {
        using TemporaryFolder data = new();
        using EarCoachProcess program = await EarCoachProcess.StartAsync(data.Path);
        using ClientWebSocket sound = await OpenAsync(program.Address, "/api/sound");
        await TellAsync(sound, new { type = "hello", rateHz = Rate });
        await sound.SendAsync(BlockOf(BlockSamples, new float[BlockSamples]), WebSocketMessageType.Binary, endOfMessage: true, CancellationToken.None);
        await sound.SendAsync(BlockOf(0, new float[BlockSamples]), WebSocketMessageType.Binary, endOfMessage: true, CancellationToken.None);
        WebSocketReceiveResult end;
        do
        {
            end = await sound.ReceiveAsync(new byte[4096], CancellationToken.None).WaitAsync(TimeSpan.FromSeconds(10));
        }
        while (end.MessageType != WebSocketMessageType.Close);
        Assert.Equal(WebSocketCloseStatus.PolicyViolation, end.CloseStatus);
        Assert.Contains("runs backwards", end.CloseStatusDescription, StringComparison.Ordinal);
    }

    private static async Task BeginAsync(Uri address, string folder)
    {
        Guid passage;
        using (SqliteStore store = SqliteStore.Open(folder))
        {
            passage = store.Passages.All().Single(kept => kept.Passage.Title == ShortCall.Title).Id;
        }

        using HttpClient client = new();
        using HttpResponseMessage answer = await client.PostAsJsonAsync(new Uri(address, "/api/session"),
            new { passageId = passage, drillKind = "proof", strictnessId = "amateur", drillNumbers = new { sets = 1, cleanInARow = 9 } });
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
    }

    private static async Task<ClientWebSocket> OpenAsync(Uri address, string path)
    {
        ClientWebSocket socket = new();
        await socket.ConnectAsync(new UriBuilder(address) { Scheme = "ws", Path = path }.Uri, CancellationToken.None);
        return socket;
    }

    private static Task TellAsync(ClientWebSocket socket, object message) =>
        socket.SendAsync(JsonSerializer.SerializeToUtf8Bytes(message), WebSocketMessageType.Text, endOfMessage: true, CancellationToken.None);

    private static async Task<List<JsonElement>> ReadNewsAsync(ClientWebSocket feed, int verdicts)
    {
        List<JsonElement> told = [];
        byte[] buffer = new byte[1 << 20];
        while (told.Count(message => message.GetProperty("type").GetString() == "verdict") < verdicts)
        {
            int length = 0;
            WebSocketReceiveResult part;
            do
            {
                part = await feed.ReceiveAsync(new ArraySegment<byte>(buffer, length, buffer.Length - length), CancellationToken.None);
                length += part.Count;
            }
            while (!part.EndOfMessage);
            using JsonDocument message = JsonDocument.Parse(buffer.AsMemory(0, length));
            told.Add(message.RootElement.Clone());
        }

        return told;
    }

    private static byte[] BlockOf(long index, ReadOnlySpan<float> samples)
    {
        byte[] block = new byte[sizeof(long) + (samples.Length * sizeof(float))];
        BinaryPrimitives.WriteInt64LittleEndian(block, index);
        MemoryMarshal.AsBytes(samples).CopyTo(block.AsSpan(sizeof(long)));
        return block;
    }
}
