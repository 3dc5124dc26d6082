using EarCoach.Core.Passages;
using EarCoach.Scores.Midi;

namespace EarCoach.App.Commands;

/// <summary>Reads a passage from the file a person names.</summary>
internal static class PassageFile
{
    private const string NoTitle = "Untitled"; // what the reader calls a file that names itself nowhere

    /// <summary>Reads the passage.</summary>
    /// <exception cref="InputException">The file cannot be opened.</exception>
    /// <exception cref="Scores.ScoreException">It cannot be read as a passage.</exception>
    public static Passage Read(string path, int? track, int? channel, string? instrumentId)
    {
        using FileStream file = Open(path);
        Passage passage = MidiPassageReader.Read(file, new MidiReadOptions { Track = track, Channel = channel, InstrumentId = instrumentId });
        return passage.Title == NoTitle ? passage with { Title = Path.GetFileNameWithoutExtension(path) } : passage;
    }

    private static FileStream Open(string path)
    {
        try
        {
            return File.OpenRead(path);
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            throw new InputException($"There is no file '{path}'. Check the path of the passage.", e);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException)
        {
            throw new InputException($"'{path}' could not be opened ({e.Message}). Give a MIDI file that you may read.", e);
        }
    }
}
