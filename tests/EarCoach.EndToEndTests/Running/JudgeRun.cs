using System.Diagnostics;
using System.Text.Json;

namespace EarCoach.EndToEndTests.Running;

/// <summary>The command line's verdicts on a recording.</summary>
internal static class JudgeRun
{
    /// <summary>One entry an attempt: its verdict, then each faulty note's index and faults, for example "missed 4:cracked".</summary>
    public static async Task<IReadOnlyList<string>> VerdictsAsync(string midi, string wav, params string[] options)
    {
        ProcessStartInfo start = new("dotnet") { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (string argument in (string[])[Path.Combine(AppContext.BaseDirectory, "earcoach.dll"), "judge", midi, wav, "--json", .. options])
        {
            start.ArgumentList.Add(argument);
        }

        using Process judge = Process.Start(start)!;
        Task<string> errors = judge.StandardError.ReadToEndAsync();
        string output = await judge.StandardOutput.ReadToEndAsync();
        await judge.WaitForExitAsync();
        if (judge.ExitCode != 0)
        {
            throw new InvalidOperationException($"judge ended with {judge.ExitCode}: {await errors}");
        }

        using JsonDocument document = JsonDocument.Parse(output);
        return [.. document.RootElement.GetProperty("attempts").EnumerateArray().Select(Short)];
    }

    /// <summary>An attempt of the page's summary, or of the command line, in the same short form.</summary>
    public static string Short(JsonElement attempt)
    {
        IEnumerable<string> faults = attempt.GetProperty("notes").EnumerateArray()
            .Where(note => note.GetProperty("faults").GetArrayLength() > 0)
            .Select(note => $"{note.GetProperty("index").GetInt32()}:{string.Join('+', note.GetProperty("faults").EnumerateArray().Select(fault => fault.GetString()))}");
        int extras = attempt.GetProperty("extraNotes").GetArrayLength();
        string[] all = [attempt.GetProperty("verdict").GetString()!, .. faults, .. extras > 0 ? [$"extra notes {extras}"] : Array.Empty<string>()];
        return string.Join(' ', all);
    }
}
