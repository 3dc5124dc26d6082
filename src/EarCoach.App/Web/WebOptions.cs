using System.Net;

namespace EarCoach.App.Web;

/// <summary>How the local page is served.</summary>
internal sealed record WebOptions
{
    /// <summary>The port asked for when none is given.</summary>
    public const int DefaultPort = 4747;

    /// <summary>Where to listen. Loopback unless the user asks for another address.</summary>
    public IPAddress Address { get; init; } = IPAddress.Loopback;

    /// <summary>TCP port; 0 lets the system choose; null: <see cref="DefaultPort"/>, or any free one when that is taken.</summary>
    public int? Port { get; init; }

    /// <summary>Whether to open the address in the user's browser.</summary>
    public bool OpenBrowser { get; init; } = true;

    /// <summary>Where practice is kept; null: the user's data folder.</summary>
    public string? DataFolder { get; init; }

    /// <summary>Folder of the page's files; null: beside the program.</summary>
    public string? PageFolder { get; init; }

    /// <summary>Every broken rule; none when the options can be used.</summary>
    public IEnumerable<string> Problems()
    {
        if (Port is < 0 or > 65535)
        {
            yield return $"Port is {Port}; it must lie from 0 (any free port) to 65535.";
        }
    }
}
