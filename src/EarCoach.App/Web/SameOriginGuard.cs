using Microsoft.Extensions.Primitives;

namespace EarCoach.App.Web;

/// <summary>Refuses, before anything else, requests that another site made the browser send: page, API and sockets alike.</summary>
internal sealed class SameOriginGuard(RequestDelegate next, HostNames names)
{
    /// <summary>Answers 403 with the rule that was broken, or passes the request on.</summary>
    public Task InvokeAsync(HttpContext context)
    {
        string? refusal = Refusal(context);
        if (refusal is null)
        {
            return next(context);
        }

        context.Response.StatusCode = StatusCodes.Status403Forbidden;
        context.Response.ContentType = "text/plain; charset=utf-8";
        return context.Response.WriteAsync(refusal, context.RequestAborted);
    }

    private string? Refusal(HttpContext context)
    {
        HttpRequest request = context.Request;
        if (!names.IsOwn(request.Host, context.Connection.LocalPort))
        {
            return $"Host '{request.Host.Value}' is not this page's. Open the address that earcoach printed when it started.\n";
        }

        foreach (string? origin in request.Headers.Origin)
        {
            if (!HostNames.IsSameOrigin(origin ?? "", request.Host, request.Scheme))
            {
                return $"Origin '{origin}' is another site. Only the page served here may talk to this program.\n";
            }
        }

        // Browsers name the relation of every request; an old browser sends no such header, and then Origin and Host decide.
        StringValues site = request.Headers["Sec-Fetch-Site"];
        bool isForeign = site == "cross-site" || site == "same-site";
        bool isTopLevelVisit = request.Headers["Sec-Fetch-Mode"] == "navigate" && HttpMethods.IsGet(request.Method);
        return isForeign && !isTopLevelVisit
            ? "This request comes from another site. Only the page served here may talk to this program.\n"
            : null;
    }
}
