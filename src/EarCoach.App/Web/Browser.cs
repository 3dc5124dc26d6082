using System.ComponentModel;
using System.Diagnostics;

namespace EarCoach.App.Web;

/// <summary>The user's own browser.</summary>
internal static class Browser
{
    /// <summary>Asks the system to open an address. Where there is no browser, the printed address is enough: nothing is thrown.</summary>
    public static void Open(Uri address)
    {
        ProcessStartInfo start = OperatingSystem.IsWindows()
            ? new ProcessStartInfo(address.AbsoluteUri) { UseShellExecute = true }
            : new ProcessStartInfo(OperatingSystem.IsMacOS() ? "open" : "xdg-open", address.AbsoluteUri)
            {
                RedirectStandardError = true,
                RedirectStandardOutput = true,
            };
        try
        {
            using Process? process = Process.Start(start);
        }
        catch (Exception e) when (e is Win32Exception or FileNotFoundException or InvalidOperationException)
        {
            Console.WriteLine("No browser could be opened here: open the address yourself.");
        }
    }
}
