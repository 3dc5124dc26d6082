using System.Reflection;
using System.Runtime.CompilerServices;

namespace EarCoach.LayerTests;

/// <summary>The projects of the program, and the repository they lie in.</summary>
internal static class Rooms
{
    /// <summary>Which project may name which others.</summary>
    public static readonly IReadOnlyDictionary<string, string[]> Allowed = new Dictionary<string, string[]>
    {
        ["EarCoach.Core"] = [],
        ["EarCoach.Engine"] = ["EarCoach.Core"],
        ["EarCoach.Audio"] = ["EarCoach.Engine", "EarCoach.Core"],
        ["EarCoach.Scores"] = ["EarCoach.Engine", "EarCoach.Core"],
        ["EarCoach.Storage"] = ["EarCoach.Engine", "EarCoach.Core"],
        ["EarCoach.App"] = ["EarCoach.Audio", "EarCoach.Scores", "EarCoach.Storage", "EarCoach.Engine", "EarCoach.Core"],
    };

    public static Assembly Load(string project) => Assembly.Load(project == "EarCoach.App" ? "earcoach" : project);

    public static string Repository([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", ".."));
}
