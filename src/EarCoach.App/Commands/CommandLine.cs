using System.CommandLine;
using EarCoach.App.Web;
using EarCoach.Audio;
using EarCoach.Engine.Ports;
using EarCoach.Scores;

namespace EarCoach.App.Commands;

/// <summary>The program's command line: parses, runs, and turns every failure into a sentence and an exit code.</summary>
internal static class CommandLine
{
    /// <summary>Runs the command that the arguments name.</summary>
    /// <param name="args">As given by the shell.</param>
    /// <param name="streams">Where it reads and writes.</param>
    /// <param name="startPage">What is done when no command is named.</param>
    /// <param name="stop">Ends a live source early.</param>
    public static async Task<int> RunAsync(string[] args, Streams streams, Func<WebOptions, CancellationToken, Task<int>> startPage, CancellationToken stop)
    {
        var root = new RootCommand("Hears you practise a passage and says of every attempt whether it was clean. Without a command the practice page starts.")
        {
            new JudgeCommand(streams).Command,
            new DrillCommand(streams).Command,
            new TraceCommand(streams).Command,
        };
        PageOptions page = new();
        page.AddTo(root);
        root.SetAction((given, cancel) => startPage(page.Read(given), cancel));
        ParseResult parsed = root.Parse(args);
        if (parsed.Errors.Count > 0)
        {
            foreach (string message in parsed.Errors.Select(error => error.Message).Distinct(StringComparer.Ordinal))
            {
                await streams.Error.WriteLineAsync(message);
            }

            string path = parsed.CommandResult.Command is RootCommand ? string.Empty : parsed.CommandResult.Command.Name + " ";
            await streams.Error.WriteLineAsync($"See: earcoach {path}--help");
            return ExitCode.WrongUsage;
        }

        try
        {
            var invocation = new InvocationConfiguration { EnableDefaultExceptionHandler = false, Output = streams.Output, Error = streams.Error, ProcessTerminationTimeout = null };
            int code = await parsed.InvokeAsync(invocation, stop);
            await streams.Output.FlushAsync(CancellationToken.None);
            return code;
        }
        catch (UsageException e)
        {
            await streams.Error.WriteLineAsync(e.Message);
            return ExitCode.WrongUsage;
        }
        catch (Exception e) when (e is AudioException or ScoreException or InputException or StoreException)
        {
            await streams.Error.WriteLineAsync(e.Message);
            return ExitCode.UnusableInput;
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            string said = e.Message.ReplaceLineEndings(" ");
            await streams.Error.WriteLineAsync($"Something went wrong that EarCoach did not expect ({e.GetType().Name}: {said}). Please report it with the command you gave.");
            return ExitCode.UnusableInput;
        }
    }
}
