namespace EarCoach.App.Commands;

/// <summary>Where a command reads and writes: the process's own streams, or a test's.</summary>
internal sealed record Streams
{
    /// <summary>What the command is asked for.</summary>
    public required TextWriter Output { get; init; }

    /// <summary>Remarks and errors.</summary>
    public required TextWriter Error { get; init; }

    /// <summary>Opens standard input for raw sound.</summary>
    public required Func<Stream> OpenInput { get; init; }

    /// <summary>The next key that was pressed, or null when none was; null where nobody can press any.</summary>
    public Func<char?>? ReadKey { get; init; }

    /// <summary>Whether a person sees standard error as it is written: only then is progress drawn.</summary>
    public bool ErrorIsTerminal { get; init; }

    /// <summary>The streams of this process. Output is UTF-8, and flushed by whoever ends the process.</summary>
    public static Streams OfProcess() => new()
    {
        Output = new StreamWriter(Console.OpenStandardOutput(), bufferSize: 16_384) { AutoFlush = false },
        Error = Console.Error,
        OpenInput = () => new InterruptibleInput(Console.OpenStandardInput()),
        ReadKey = Console.IsInputRedirected ? null : () => Console.KeyAvailable ? Console.ReadKey(intercept: true).KeyChar : null,
        ErrorIsTerminal = !Console.IsErrorRedirected,
    };
}
