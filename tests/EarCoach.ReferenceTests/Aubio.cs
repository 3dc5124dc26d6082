using System.Diagnostics;
using System.Globalization;

namespace EarCoach.ReferenceTests;

/// <summary>Runs the command-line programs of aubio (Debian: aubio-tools), a general-purpose library for finding pitch.</summary>
internal static class Aubio
{
    /// <summary>Pitch by aubiopitch.</summary>
    /// <param name="path">A WAV file.</param>
    /// <param name="method">A pitch method of aubio: "default", "yinfast", ...</param>
    public static IReadOnlyList<PitchPoint> Pitches(string path, string method) =>
    [
        .. from line in Run("aubiopitch", "-p", method, "-u", "freq", path)
           let words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries)
           let hz = double.Parse(words[1], CultureInfo.InvariantCulture)
           select new PitchPoint(double.Parse(words[0], CultureInfo.InvariantCulture), hz > 0 ? 69 + (12 * Math.Log2(hz / 440)) : null, 0),
    ];

    /// <summary>Onsets by aubioonset, in seconds.</summary>
    /// <param name="path">A WAV file.</param>
    /// <param name="method">An onset method of aubio: "default", "specflux", ...</param>
    public static IReadOnlyList<double> Onsets(string path, string method) =>
        [.. Run("aubioonset", "-O", method, path).Select(line => double.Parse(line, CultureInfo.InvariantCulture))];

    private static List<string> Run(string program, params string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        try
        {
            using Process process = Process.Start(start)!;
            Task<string> complaint = process.StandardError.ReadToEndAsync();
            var lines = new List<string>();
            while (process.StandardOutput.ReadLine() is { } line)
            {
                lines.Add(line);
            }

            process.WaitForExit();
            return process.ExitCode == 0 ? lines : throw new InvalidOperationException($"{program} ended with code {process.ExitCode}: {complaint.Result}");
        }
        catch (System.ComponentModel.Win32Exception e)
        {
            throw new InvalidOperationException($"{program} is not installed. Install Debian's aubio-tools and run the tests again; .ci/run does so.", e);
        }
    }
}
