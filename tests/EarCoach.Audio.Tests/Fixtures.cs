using System.Runtime.CompilerServices;

namespace EarCoach.Audio.Tests;

/// <summary>Where the fixtures lie in the source tree.</summary>
internal static class Fixtures
{
    public static string Path(params string[] parts) => System.IO.Path.Combine([Root(), "fixtures", .. parts]);

    private static string Root([CallerFilePath] string here = "") =>
        System.IO.Path.GetFullPath(System.IO.Path.Combine(System.IO.Path.GetDirectoryName(here)!, "..", ".."));
}
