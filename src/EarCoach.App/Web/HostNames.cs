using System.Net;

namespace EarCoach.App.Web;

/// <summary>Decides which Host and Origin headers belong to this page.</summary>
/// <remarks>A name that merely resolves to this machine is not enough: a foreign page can rebind its own name to loopback.
/// IP literals cannot be rebound, so beyond loopback only the addresses themselves are taken.</remarks>
internal sealed class HostNames(IPAddress listenAddress)
{
    /// <summary>Whether a request with this Host header, arriving on this port, is meant for the page.</summary>
    public bool IsOwn(HostString host, int localPort)
    {
        if (!host.HasValue || (host.Port ?? 80) != localPort)
        {
            return false;
        }

        if (host.Host.Equals("localhost", StringComparison.OrdinalIgnoreCase))
        {
            return true;
        }

        return IPAddress.TryParse(host.Host.Trim('[', ']'), out IPAddress? address)
            && (IPAddress.IsLoopback(address) || IsListenedOn(address));
    }

    /// <summary>Whether this Origin header names the very address the request was sent to.</summary>
    public static bool IsSameOrigin(string origin, HostString host, string scheme) =>
        origin.Equals($"{scheme}://{host.Value}", StringComparison.OrdinalIgnoreCase);

    private bool IsListenedOn(IPAddress address) =>
        listenAddress.Equals(IPAddress.Any) || listenAddress.Equals(IPAddress.IPv6Any) || listenAddress.Equals(address);
}
