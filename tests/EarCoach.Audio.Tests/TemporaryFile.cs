namespace EarCoach.Audio.Tests;

/// <summary>A file that goes away with the test.</summary>
internal sealed class TemporaryFile : IDisposable
{
    public string Path { get; } = System.IO.Path.Combine(System.IO.Path.GetTempPath(), $"earcoach-{Guid.NewGuid():N}.wav");

    public void Dispose() => File.Delete(Path);
}
