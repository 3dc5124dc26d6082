namespace EarCoach.App.Commands;

/// <summary>What the program tells the shell when it ends.</summary>
internal static class ExitCode
{
    /// <summary>The work was done.</summary>
    public const int Done = 0;

    /// <summary>The input could not be used; standard error says why.</summary>
    public const int UnusableInput = 1;

    /// <summary>The command was not understood; standard error says why.</summary>
    public const int WrongUsage = 2;
}
