using System.CommandLine;
using System.CommandLine.Parsing;
using System.Net;

namespace EarCoach.App.Web;

/// <summary>The options of the command line for the page.</summary>
internal sealed class PageOptions
{
    private readonly Option<int?> _port = new("--port")
    {
        Description = $"TCP port of the page; 0 for any free one. Usual: {WebOptions.DefaultPort}, or any free one when that is taken.",
        HelpName = "NUMBER",
    };

    private readonly Option<IPAddress> _listen = new("--listen")
    {
        Description = "Address the page listens on. Anything but loopback lets other machines in, and browsers give them no microphone.",
        HelpName = "ADDRESS",
        CustomParser = ParseAddress,
        DefaultValueFactory = _ => IPAddress.Loopback,
    };

    private readonly Option<DirectoryInfo?> _data = new("--data")
    {
        Description = "Folder where practice is kept. Usual: the user's data folder.",
        HelpName = "FOLDER",
    };

    private readonly Option<bool> _noBrowser = new("--no-browser") { Description = "Print the address of the page without opening it." };

    /// <summary>Adds the options to the command that starts the page.</summary>
    public void AddTo(Command command)
    {
        command.Options.Add(_port);
        command.Options.Add(_listen);
        command.Options.Add(_data);
        command.Options.Add(_noBrowser);
    }

    /// <summary>What was given on the command line.</summary>
    public WebOptions Read(ParseResult parsed) => new()
    {
        Port = parsed.GetValue(_port),
        Address = parsed.GetValue(_listen) ?? IPAddress.Loopback,
        DataFolder = parsed.GetValue(_data)?.FullName,
        OpenBrowser = !parsed.GetValue(_noBrowser),
    };

    private static IPAddress? ParseAddress(ArgumentResult argument)
    {
        string given = argument.Tokens.Count == 1 ? argument.Tokens[0].Value : "";
        if (given.Equals("localhost", StringComparison.OrdinalIgnoreCase))
        {
            return IPAddress.Loopback;
        }

        if (IPAddress.TryParse(given, out IPAddress? address))
        {
            return address;
        }

        argument.AddError($"'{given}' is no IP address. Pass for example --listen 127.0.0.1.");
        return null;
    }
}
