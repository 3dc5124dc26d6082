using System.Runtime.CompilerServices;
using EarCoach.Core.Passages;
using EarCoach.Scores.Midi;

namespace EarCoach.ReferenceTests;

/// <summary>Where the recordings lie.</summary>
internal static class Places
{
    private const string Variable = "EARCOACH_RECORDINGS";

    public static string Repository { get; } = FindRepository();

    /// <summary>The project's passages, as MIDI files.</summary>
    public static IEnumerable<string> PassageFiles => Directory.GetFiles(Path.Combine(Repository, "fixtures", "passages"), "*.mid").Order(StringComparer.Ordinal);

    /// <summary>All of them, each with its file's name as title.</summary>
    public static IEnumerable<Passage> Passages() => PassageFiles.Select(Path.GetFileNameWithoutExtension).Select(name => PassageOf(name!) with { Title = name! });

    /// <summary>One of them, by its file's name without the ending.</summary>
    public static Passage PassageOf(string name)
    {
        using FileStream midi = File.OpenRead(Path.Combine(Repository, "fixtures", "passages", name + ".mid"));
        return MidiPassageReader.Read(midi);
    }

    /// <summary>A file of the real instruments' recordings.</summary>
    /// <exception cref="InvalidOperationException">The folder is not named, or is not there.</exception>
    public static string Recording(string relativePath)
    {
        string? folder = Environment.GetEnvironmentVariable(Variable);
        if (string.IsNullOrEmpty(folder))
        {
            throw new InvalidOperationException(
                $"The environment variable {Variable} is not set. Set it to the folder of recordings of real instruments (with INDEX.tsv and SEQUENCES.tsv) and run the tests again; .ci/run sets it.");
        }

        string path = Path.Combine(folder, relativePath);
        return File.Exists(path)
            ? path
            : throw new InvalidOperationException($"{Variable} is '{folder}', but there is no file '{path}'. Set it to the folder that holds INDEX.tsv and SEQUENCES.tsv.");
    }

    /// <summary>The rows of a table with tab-separated columns, without its heading.</summary>
    public static IEnumerable<string[]> Table(string relativePath) => File.ReadLines(Recording(relativePath)).Skip(1).Where(line => line.Length > 0).Select(line => line.Split('\t'));

    private static string FindRepository([CallerFilePath] string here = "") => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", ".."));
}
