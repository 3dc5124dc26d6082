using EarCoach.Core.Passages;
using EarCoach.Scores.Midi;

namespace EarCoach.App.Commands;

/// <summary>Reads a passage from the file a person names.</summary>
internal static class PassageFile
{
    private const string NoTitle = "Untitled"; // what the reader calls a file that names itself nowhere

    /// <summary>Reads the passage.</summary>
    /// <param name="path">The file.</param>
    /// <param name="track">Track of a MIDI file, from 1; null: the only one.</param>
    /// <param name="channel">Channel of a MIDI file, 1 to 16; null: the only one.</param>
    /// <param name="instrument">As the person names it; null: the usual one for the program that the file sets, if it sets any.</param>
    /// <exception cref="InputException">The file cannot be opened.</exception>
    /// <exception cref="UsageException">There is no such instrument, or several.</exception>
    /// <exception cref="Scores.ScoreException">It cannot be read as a passage.</exception>
    public static Passage Read(string path, int? track, int? channel, string? instrument)
    {
        Instrument? chosen = instrument is null ? null : Named(instrument);
        using FileStream file = Open(path);
        RefuseSound(path, file);
        Passage passage = MidiPassageReader.Read(file, new MidiReadOptions { Track = track, Channel = channel });
        file.Position = 0;
        chosen ??= Usual(MidiPassageReader.Describe(file), track, channel);
        return passage with
        {
            Title = passage.Title == NoTitle ? Path.GetFileNameWithoutExtension(path) : passage.Title,
            InstrumentId = chosen?.Id,
        };
    }

    private static Instrument Named(string name) => InstrumentSearch.Find(name) switch
    {
        [Instrument only] => only,
        [] => throw new UsageException($"--instrument is '{name}', which is not known. Known are: {List(InstrumentTable.All)}."),
        var several => throw new UsageException($"--instrument is '{name}', which can mean several. Choose one of: {List(several)}."),
    };

    private static string List(IEnumerable<Instrument> instruments) => string.Join(", ", instruments.Select(instrument => instrument.Id));

    private static Instrument? Usual(MidiDescription description, int? track, int? channel)
    {
        MidiPart part = description.Parts.First(part => (track ?? part.Track) == part.Track && (channel ?? part.Channel) == part.Channel);
        return part.Program is { } program ? InstrumentTable.ByProgram(program) : null;
    }

    private static void RefuseSound(string path, FileStream file)
    {
        Span<byte> head = stackalloc byte[4];
        int got = file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        file.Position = 0;
        if (head[..got].SequenceEqual("RIFF"u8))
        {
            throw new InputException($"'{path}' is a recording, not a passage. The passage comes first, the recording second.");
        }
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
