namespace EarCoach.ReferenceTests;

/// <summary>A file for as long as it is needed.</summary>
internal sealed class TemporaryFile(string ending) : IDisposable
{
    /// <summary>Where it is, or will be.</summary>
    public string Path { get; } = System.IO.Path.Combine(System.IO.Path.GetTempPath(), $"earcoach-{Guid.NewGuid():N}{ending}");

    public void Dispose() => File.Delete(Path);
}
