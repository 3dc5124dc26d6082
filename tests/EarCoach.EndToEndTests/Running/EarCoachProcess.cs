using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;

namespace EarCoach.EndToEndTests.Running;

/// <summary>The program itself, started as a user starts it.</summary>
internal sealed class EarCoachProcess : IDisposable
{
    private static readonly TimeSpan _longestStart = TimeSpan.FromSeconds(60);
    private readonly Process _process;
    private readonly ConcurrentQueue<string> _said = new();

    private EarCoachProcess(Process process) => _process = process;

    /// <summary>Where the page is.</summary>
    public Uri Address { get; private set; } = null!;

    /// <summary>Everything the program has printed.</summary>
    public string Said => string.Join(Environment.NewLine, _said);

    /// <summary>Starts the program and waits until it has printed its address.</summary>
    public static async Task<EarCoachProcess> StartAsync(string dataFolder, int port = 0, params string[] moreArguments)
    {
        string program = Path.Combine(AppContext.BaseDirectory, "earcoach.dll");
        ProcessStartInfo start = new("dotnet")
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        foreach (string argument in (string[])[program, "--no-browser", "--port", port.ToString(CultureInfo.InvariantCulture), "--data", dataFolder, .. moreArguments])
        {
            start.ArgumentList.Add(argument);
        }

        EarCoachProcess started = new(Process.Start(start) ?? throw new InvalidOperationException("dotnet did not start."));
        TaskCompletionSource<Uri> address = new(TaskCreationOptions.RunContinuationsAsynchronously);
        started._process.OutputDataReceived += (_, line) => started.Hear(line.Data, address);
        started._process.ErrorDataReceived += (_, line) => started.Hear(line.Data, address);
        started._process.EnableRaisingEvents = true;
        started._process.Exited += (_, _) => address.TrySetException(new InvalidOperationException($"The program ended before it served its page. It said: {started.Said}"));
        started._process.BeginOutputReadLine();
        started._process.BeginErrorReadLine();
        try
        {
            started.Address = await address.Task.WaitAsync(_longestStart);
            return started;
        }
        catch
        {
            started.Dispose();
            throw;
        }
    }

    /// <summary>Ends the program as SIGKILL does: it gets no chance to put anything in order.</summary>
    public void KillAtOnce()
    {
        _process.Kill();
        _process.WaitForExit();
    }

    public void Dispose()
    {
        if (!_process.HasExited)
        {
            KillAtOnce();
        }

        _process.Dispose();
    }

    private void Hear(string? line, TaskCompletionSource<Uri> address)
    {
        if (line is null)
        {
            return;
        }

        _said.Enqueue(line);
        const string Announcement = "EarCoach is at ";
        if (line.StartsWith(Announcement, StringComparison.Ordinal))
        {
            address.TrySetResult(new Uri(line[Announcement.Length..].Trim()));
        }
    }
}
