namespace EarCoach.Storage.Tests;

/// <summary>Started by the crash test as a process of its own; the test runner does not come this way.</summary>
internal static class Program
{
    public static int Main(string[] arguments)
    {
        if (arguments is not ["write", { } folder])
        {
            Console.Error.WriteLine("Usage: EarCoach.Storage.Tests write FOLDER");
            return 2;
        }

        CrashWriter.Run(folder);
        return 0;
    }
}
