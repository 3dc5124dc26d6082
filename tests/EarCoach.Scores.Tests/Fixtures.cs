namespace EarCoach.Scores.Tests;

/// <summary>The repository's fixtures folder.</summary>
internal static class Fixtures
{
    public static string Folder(string name) => Path.Combine(Root(), "fixtures", name);

    public static string Root()
    {
        DirectoryInfo? root = new(AppContext.BaseDirectory);
        while (root is not null && !File.Exists(Path.Combine(root.FullName, "EarCoach.sln")))
        {
            root = root.Parent;
        }

        return root?.FullName ?? throw new InvalidOperationException($"No EarCoach.sln above {AppContext.BaseDirectory}; run the tests inside the repository.");
    }
}
