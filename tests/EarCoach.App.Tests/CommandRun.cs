using System.Runtime.CompilerServices;
using EarCoach.App.Commands;

namespace EarCoach.App.Tests;

/// <summary>One run of the command line within the test's process.</summary>
internal sealed record CommandRun(int ExitCode, string Output, string Error)
{
    public static string Root { get; } = FindRoot();

    /// <summary>Splits the command at spaces; FIX/ and REF/ stand for the folders of fixtures and reference audio.</summary>
    public static Task<CommandRun> Of(string command, Stream? input = null) => Of(() => input ?? Stream.Null, command);

    public static async Task<CommandRun> Of(Func<Stream> openInput, string command, Func<char?>? readKey = null, CancellationToken stop = default)
    {
        string[] args = [.. command.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Expand)];
        using var output = new StringWriter();
        using var error = new StringWriter();
        var streams = new Streams { Output = output, Error = error, OpenInput = openInput, ReadKey = readKey };
        int code = await CommandLine.RunAsync(args, streams, (_, _) => Task.FromResult(42), stop);
        return new CommandRun(code, output.ToString(), error.ToString());
    }

    private static string Expand(string word) =>
        word.Replace("FIX/", Path.Combine(Root, "fixtures") + "/", StringComparison.Ordinal)
            .Replace("REF/", Path.Combine(Root, "reference-audio") + "/", StringComparison.Ordinal);

    private static string FindRoot([CallerFilePath] string here = "") => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", ".."));
}
