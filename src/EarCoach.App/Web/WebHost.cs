using EarCoach.App.Web.Endpoints;
using EarCoach.App.Web.Messages;
using EarCoach.App.Web.Practice;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;
using EarCoach.Scores;
using EarCoach.Storage;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.StaticFiles;
using Microsoft.Extensions.FileProviders;

namespace EarCoach.App.Web;

/// <summary>Serves the page on this machine.</summary>
internal static class WebHost
{
    private const int MostRequestBytes = 16 * 1024 * 1024;

    /// <summary>Starts the page, prints and opens its address, and serves until cancelled or interrupted.</summary>
    /// <returns>0 when it was stopped, 1 when it could not start; the reason is on standard error.</returns>
    public static async Task<int> RunAsync(WebOptions options, CancellationToken cancellationToken)
    {
        List<string> problems = [.. options.Problems()];
        if (problems.Count > 0)
        {
            problems.ForEach(Console.Error.WriteLine);
            return 2;
        }

        try
        {
            using SqliteStore store = SqliteStore.Open(DataFolder.Choose(options.DataFolder));
            await using WebApplication app = await StartAsync(options, store, cancellationToken);
            Uri address = AddressOf(app);
            Console.WriteLine($"EarCoach is at {address}");
            Console.WriteLine("Press Ctrl+C to stop it.");
            if (options.OpenBrowser)
            {
                Browser.Open(address);
            }

            await app.WaitForShutdownAsync(cancellationToken);
            return 0;
        }
        catch (IOException e)
        {
            Console.Error.WriteLine($"The page could not be served: {e.Message} Pass another --port, or --port 0 for any free one.");
            return 1;
        }
        catch (StoreException e)
        {
            Console.Error.WriteLine(e.Message);
            return 1;
        }
    }

    /// <summary>The address that a started page answers on.</summary>
    public static Uri AddressOf(WebApplication app) =>
        new(app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First());

    /// <summary>Starts the page; where no port was given and the usual one is taken, on any free one.</summary>
    public static async Task<WebApplication> StartAsync(WebOptions options, SqliteStore store, CancellationToken cancellationToken)
    {
        WebApplication app = Build(options, store, options.Port ?? WebOptions.DefaultPort);
        try
        {
            await app.StartAsync(cancellationToken);
            return app;
        }
        catch (IOException) when (options.Port is null)
        {
            await app.DisposeAsync();
        }

        app = Build(options, store, port: 0);
        await app.StartAsync(cancellationToken);
        return app;
    }

    private static WebApplication Build(WebOptions options, SqliteStore store, int port)
    {
        string pageFolder = options.PageFolder ?? Path.Combine(AppContext.BaseDirectory, "wwwroot");
        if (!File.Exists(Path.Combine(pageFolder, "index.html")))
        {
            throw new IOException($"The page's files are not in '{pageFolder}'. Build or install the program again.");
        }

        // The empty builder reads no configuration files, no environment and no command line: nothing else decides where it listens.
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel =>
        {
            kestrel.Listen(options.Address, port);
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = MostRequestBytes;
        });
        builder.Logging.AddSimpleConsole(console => console.SingleLine = true).SetMinimumLevel(LogLevel.Warning);
        builder.Services.AddRoutingCore();
        builder.Services.ConfigureHttpJsonOptions(json =>
        {
            json.SerializerOptions.DefaultIgnoreCondition = PageMessages.Options.DefaultIgnoreCondition;
            json.SerializerOptions.NumberHandling = PageMessages.Options.NumberHandling;
        });

        WebApplication app = builder.Build();
        app.UseMiddleware<SameOriginGuard>(new HostNames(options.Address));
        app.Use(SecurityHeaders.Add);
        app.UseWebSockets(new WebSocketOptions { KeepAliveInterval = TimeSpan.FromSeconds(20) });
        PhysicalFileProvider files = new(pageFolder);
        app.UseDefaultFiles(new DefaultFilesOptions { FileProvider = files });
        FileExtensionContentTypeProvider types = new();
        types.Mappings[".mjs"] = "text/javascript";
        app.UseStaticFiles(new StaticFileOptions { FileProvider = files, ContentTypeProvider = types });

        app.UseRouting();
        DemoPassages demos = new(Path.Combine(AppContext.BaseDirectory, "demo"));
        demos.Seed(store.Passages, store.Settings, TimeProvider.System);
        PracticeDesk desk = new(store, TimeProvider.System);
        app.Lifetime.ApplicationStarted.Register(() => _ = EarWarmUp.Start());
        RouteGroupBuilder routes = app.MapGroup("").AddEndpointFilter(PlainErrors);
        PassageEndpoints.Map(routes, store, demos);
        LibraryEndpoints.Map(routes, store, TimeProvider.System);
        ImportEndpoints.Map(routes, store, TimeProvider.System);
        SessionEndpoints.Map(routes, desk, store);
        SettingsEndpoints.Map(routes, store);
        SocketEndpoints.Map(routes, desk, app.Lifetime);
        return app;
    }

    /// <summary>What the player can do something about is answered in a sentence.</summary>
    private static async ValueTask<object?> PlainErrors(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        try
        {
            return await next(context);
        }
        catch (SetupException e)
        {
            return Results.BadRequest(new { message = e.Message });
        }
        catch (ScoreException e)
        {
            return Results.BadRequest(new { message = e.Message, place = e.Place, reason = e.Reason });
        }
        catch (BadHttpRequestException e) when (e.StatusCode == StatusCodes.Status413PayloadTooLarge)
        {
            return Results.Json(
                new { message = $"The file is larger than {MostRequestBytes / (1024 * 1024)} MB, the most that is read. Export only the part you practise." },
                statusCode: StatusCodes.Status413PayloadTooLarge);
        }
        catch (StoreException e)
        {
            return Results.Json(new { message = e.Message }, statusCode: StatusCodes.Status500InternalServerError);
        }
    }
}
