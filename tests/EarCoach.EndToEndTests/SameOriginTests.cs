using System.Net;
using System.Net.WebSockets;
using EarCoach.EndToEndTests.Running;
using Xunit;

namespace EarCoach.EndToEndTests;

/// <summary>Nothing but the page itself may talk to the program: a foreign Host or Origin is refused on page, API and sockets.</summary>
public sealed class SameOriginTests : IAsyncLifetime, IDisposable
{
    private readonly TemporaryFolder _data = new();
    private readonly HttpClient _client = new();
    private EarCoachProcess _program = null!;

    public async Task InitializeAsync() => _program = await EarCoachProcess.StartAsync(_data.Path);

    public Task DisposeAsync() => Task.CompletedTask;

    public void Dispose()
    {
        _client.Dispose();
        _program.Dispose();
        _data.Dispose();
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/js/main.js")]
    [InlineData("/api/choices")]
    [InlineData("/api/settings")]
    public async Task ForeignHostOrOrigin_IsRefused(string path)
    {
        Assert.Equal(HttpStatusCode.OK, await StatusAsync(path));
        Assert.Equal(HttpStatusCode.OK, await StatusAsync(path, host: $"localhost:{_program.Address.Port}"));
        Assert.Equal(HttpStatusCode.OK, await StatusAsync(path, origin: _program.Address.GetLeftPart(UriPartial.Authority)));

        Assert.Equal(HttpStatusCode.Forbidden, await StatusAsync(path, host: $"rebound.example:{_program.Address.Port}"));
        Assert.Equal(HttpStatusCode.Forbidden, await StatusAsync(path, host: "127.0.0.1"));
        Assert.Equal(HttpStatusCode.Forbidden, await StatusAsync(path, host: $"192.0.2.7:{_program.Address.Port}"));
        Assert.Equal(HttpStatusCode.Forbidden, await StatusAsync(path, origin: "https://elsewhere.example"));
        Assert.Equal(HttpStatusCode.Forbidden, await StatusAsync(path, origin: "null"));
        Assert.Equal(HttpStatusCode.Forbidden, await StatusAsync(path, origin: $"http://localhost:{_program.Address.Port + 1}"));
    }

    [Fact]
    public async Task ForeignPage_CannotChangeAnything()
    {
        foreach (string path in (string[])["/api/session", "/api/session/commands", "/api/settings"])
        {
            using HttpRequestMessage request = new(path == "/api/settings" ? HttpMethod.Put : HttpMethod.Post, new Uri(_program.Address, path));
            request.Headers.Add("Origin", "https://elsewhere.example");
            request.Content = new StringContent("{}", System.Text.Encoding.UTF8, "application/json");
            using HttpResponseMessage answer = await _client.SendAsync(request);
            Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        }
    }

    [Theory]
    [InlineData("cross-site", "no-cors", HttpStatusCode.Forbidden)]
    [InlineData("same-site", "cors", HttpStatusCode.Forbidden)]
    [InlineData("cross-site", "navigate", HttpStatusCode.OK)] // a link that the user follows
    [InlineData("same-origin", "cors", HttpStatusCode.OK)]
    [InlineData("none", "navigate", HttpStatusCode.OK)] // typed into the address bar
    public async Task RequestsThatTheBrowserCallsForeign_AreRefused(string site, string mode, HttpStatusCode expected)
    {
        using HttpRequestMessage request = new(HttpMethod.Get, _program.Address);
        request.Headers.Add("Sec-Fetch-Site", site);
        request.Headers.Add("Sec-Fetch-Mode", mode);
        using HttpResponseMessage answer = await _client.SendAsync(request);
        Assert.Equal(expected, answer.StatusCode);
    }

    [Theory]
    [InlineData("/api/feed")]
    [InlineData("/api/sound")]
    public async Task Sockets_OpenToThePageOnly(string path)
    {
        Assert.True(await ConnectsAsync(path, origin: _program.Address.GetLeftPart(UriPartial.Authority)));
        Assert.False(await ConnectsAsync(path, origin: "https://elsewhere.example"));
        Assert.False(await ConnectsAsync(path, host: $"rebound.example:{_program.Address.Port}"));
    }

    [Fact]
    public async Task EveryAnswer_ForbidsInlineScriptsAndOtherHosts()
    {
        foreach (string path in (string[])["/", "/js/main.js", "/js/notation-worker.js", "/api/choices"])
        {
            using HttpResponseMessage answer = await _client.GetAsync(new Uri(_program.Address, path));
            string policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
            Assert.Contains("default-src 'none'", policy, StringComparison.Ordinal);
            Assert.DoesNotContain("unsafe-inline", policy, StringComparison.Ordinal);
            Assert.DoesNotContain("'unsafe-eval'", policy, StringComparison.Ordinal);
            Assert.DoesNotContain("https:", policy, StringComparison.Ordinal);
            Assert.DoesNotContain("*", policy, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void ListensOnLoopbackOnly() => Assert.True(_program.Address.IsLoopback);

    private async Task<HttpStatusCode> StatusAsync(string path, string? host = null, string? origin = null)
    {
        using HttpRequestMessage request = new(HttpMethod.Get, new Uri(_program.Address, path));
        request.Headers.Host = host;
        if (origin is not null)
        {
            request.Headers.Add("Origin", origin);
        }

        using HttpResponseMessage answer = await _client.SendAsync(request);
        return answer.StatusCode;
    }

    private async Task<bool> ConnectsAsync(string path, string? origin = null, string? host = null)
    {
        using ClientWebSocket socket = new();
        if (origin is not null)
        {
            socket.Options.SetRequestHeader("Origin", origin);
        }

        if (host is not null)
        {
            socket.Options.SetRequestHeader("Host", host);
        }

        try
        {
            await socket.ConnectAsync(new UriBuilder(_program.Address) { Scheme = "ws", Path = path }.Uri, CancellationToken.None);
            return true;
        }
        catch (WebSocketException e) when (e.Message.Contains("403", StringComparison.Ordinal))
        {
            return false;
        }
    }
}
