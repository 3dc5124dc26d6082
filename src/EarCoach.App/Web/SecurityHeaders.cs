namespace EarCoach.App.Web;

/// <summary>The headers that keep the page to itself.</summary>
internal static class SecurityHeaders
{
    /// <summary>Scripts, styles, sockets and media of this address only; WebAssembly for the notation library.</summary>
    private const string PolicyStart =
        "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data:; font-src 'self'; "
        + "media-src 'self' blob:; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; "
        + "connect-src 'self'";

    /// <summary>Sets them on every answer.</summary>
    public static Task Add(HttpContext context, RequestDelegate next)
    {
        IHeaderDictionary headers = context.Response.Headers;

        // Some browsers do not take 'self' to mean the WebSocket scheme too, so the socket's address is named. The Host was checked before.
        headers.ContentSecurityPolicy = $"{PolicyStart} ws://{context.Request.Host.Value}";
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "microphone=(self), camera=(), geolocation=()";
        headers.CacheControl = "no-cache";
        return next(context);
    }
}
