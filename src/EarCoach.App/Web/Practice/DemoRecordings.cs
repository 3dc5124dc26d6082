using EarCoach.Engine.Ports;

namespace EarCoach.App.Web.Practice;

/// <summary>The recordings that came with the program: someone plays a demo passage, so that the page can be tried without a microphone.</summary>
internal sealed class DemoRecordings(string folder)
{
    /// <summary>The recording of a passage; null where there is none.</summary>
    public string? NameFor(LibraryPassage passage)
    {
        string name = $"{passage.Id:N}.wav";
        return passage.IsDemo && File.Exists(Path.Combine(folder, name)) ? name : null;
    }

    /// <summary>Its file; null where there is none of that name.</summary>
    public string? PathOf(string name)
    {
        // Only names of this folder's own files: nothing of what is sent is used as a path.
        string? file = Directory.Exists(folder) ? Directory.EnumerateFiles(folder, "*.wav").FirstOrDefault(path => Path.GetFileName(path) == name) : null;
        return file;
    }
}
