namespace EarCoach.Scores.Tests;

/// <summary>A folder that is gone after the test.</summary>
internal sealed class TemporaryFolder : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("earcoach-scores-");

    public string PathOf(string name) => Path.Combine(_folder.FullName, name);

    public string Write(string name, byte[] bytes)
    {
        File.WriteAllBytes(PathOf(name), bytes);
        return PathOf(name);
    }

    public void Dispose() => _folder.Delete(recursive: true);
}
