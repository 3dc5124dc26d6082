using Spectre.Console;

namespace EarCoach.App.Commands;

/// <summary>A bar on standard error while long work goes on; for people only.</summary>
internal static class ProgressBar
{
    private const int StepsBetweenUpdates = 50;

    /// <summary>Takes steps until there are none left, and shows how far the work is.</summary>
    /// <param name="error">Standard error.</param>
    /// <param name="what">What is being done.</param>
    /// <param name="total">The measure of all the work.</param>
    /// <param name="done">The measure of what is done.</param>
    /// <param name="step">Takes a step; false when none is left.</param>
    public static void Run(TextWriter error, string what, double total, Func<double> done, Func<bool> step)
    {
        IAnsiConsole console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(error) });
        console.Progress().AutoClear(true)
            .Columns(new TaskDescriptionColumn(), new ProgressBarColumn { CompletedStyle = Style.Plain, FinishedStyle = Style.Plain, RemainingStyle = new Style(decoration: Decoration.Dim) }, new PercentageColumn(), new RemainingTimeColumn())
            .Start(context =>
            {
                ProgressTask task = context.AddTask(what, maxValue: total);
                bool more = true;
                while (more)
                {
                    for (int i = 0; i < StepsBetweenUpdates && more; i++)
                    {
                        more = step();
                    }

                    task.Value = done();
                }
            });
    }
}
