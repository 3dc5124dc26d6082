namespace EarCoach.Storage.Tests;

/// <summary>A folder that is gone afterwards.</summary>
internal sealed class TemporaryFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("earcoach-test-").FullName;

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
