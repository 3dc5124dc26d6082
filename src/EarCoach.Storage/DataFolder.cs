using EarCoach.Engine.Ports;

namespace EarCoach.Storage;

/// <summary>Where the player's data is kept.</summary>
public static class DataFolder
{
    /// <summary>The environment variable that names another folder.</summary>
    public const string Variable = "EARCOACH_DATA";

    /// <summary>The folder: the option, else <see cref="Variable"/>, else the operating system's place for a user's data. Not created yet.</summary>
    /// <param name="option">A folder given by the player, or null.</param>
    /// <remarks>Source for Linux: XDG Base Directory Specification: $XDG_DATA_HOME, which is ignored unless absolute, else $HOME/.local/share.</remarks>
    /// <exception cref="StoreException">No place can be found.</exception>
    public static string Choose(string? option = null) => Choose(option, Environment.GetEnvironmentVariable, Environment.GetFolderPath);

    internal static string Choose(string? option, Func<string, string?> variable, Func<Environment.SpecialFolder, string> folder)
    {
        if (FirstFilled(option, variable(Variable)) is { } chosen)
        {
            return Path.GetFullPath(chosen);
        }

        if (OperatingSystem.IsWindows() || OperatingSystem.IsMacOS())
        {
            return Under(folder(Environment.SpecialFolder.ApplicationData), "EarCoach");
        }

        string? xdg = variable("XDG_DATA_HOME");
        if (!string.IsNullOrEmpty(xdg) && Path.IsPathFullyQualified(xdg))
        {
            return Path.Combine(xdg, "earcoach");
        }

        string? home = FirstFilled(variable("HOME"), folder(Environment.SpecialFolder.UserProfile));
        return Under(home is null ? string.Empty : Path.Combine(home, ".local", "share"), "earcoach");
    }

    private static string? FirstFilled(string? first, string? second) => !string.IsNullOrWhiteSpace(first) ? first : !string.IsNullOrWhiteSpace(second) ? second : null;

    private static string Under(string parent, string name) => parent.Length > 0
        ? Path.Combine(parent, name)
        : throw new StoreException($"There is no home folder to keep your practice in. Set {Variable} to a folder of your choice.");
}
