namespace EarCoach.EndToEndTests.Running;

/// <summary>A temporary folder that goes away at the end.</summary>
internal sealed class TemporaryFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("earcoach-test-").FullName;

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
