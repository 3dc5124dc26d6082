using EarCoach.Core.Passages;
using EarCoach.Scores;
using EarCoach.Scores.Abc;
using EarCoach.Scores.Midi;
using EarCoach.Scores.MusicXml;

namespace EarCoach.App.Commands;

/// <summary>Reads a passage from the file a person names: a MIDI file, MusicXML or ABC, told apart by what is in it.</summary>
internal static class PassageFile
{
    private const string NoTitle = "Untitled"; // what the readers call a file that names itself nowhere

    /// <summary>Reads the passage.</summary>
    /// <exception cref="InputException">The file cannot be opened, or is a recording.</exception>
    /// <exception cref="UsageException">There is no such instrument, or several.</exception>
    /// <exception cref="ScoreException">It cannot be read as a passage.</exception>
    public static ScoreReading Read(string path, PassageChoice choice)
    {
        Instrument? chosen = choice.Instrument is { } name ? Named(name) : null;
        using FileStream file = Open(path);
        byte[] head = new byte[64 * 1024];
        head = head[..file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false)];
        file.Position = 0;
        if (head.AsSpan().StartsWith("RIFF"u8))
        {
            throw new InputException($"'{path}' is a recording, not a passage. The passage comes first, the recording second.");
        }

        ScoreReading reading = ScoreFile.FormatOf(head) switch
        {
            ScoreFormat.MusicXml => ReadMusicXml(file, choice, chosen),
            ScoreFormat.Abc => ReadAbc(file, choice, chosen),
            _ => ReadMidi(file, choice, chosen), // which says what is wrong with any other file
        };
        return reading.Passage.Title == NoTitle
            ? reading with { Passage = reading.Passage with { Title = Path.GetFileNameWithoutExtension(path) } }
            : reading;
    }

    private static ScoreReading ReadMusicXml(FileStream file, PassageChoice choice, Instrument? chosen) =>
        MusicXmlPassageReader.Read(file, new MusicXmlReadOptions { PartId = choice.Part, Voice = choice.Voice, InstrumentId = chosen?.Id });

    /// <summary>The pitches of a tune are taken as they stand, at sounding pitch, unless the file names a transposition.</summary>
    private static ScoreReading ReadAbc(FileStream file, PassageChoice choice, Instrument? chosen) =>
        AbcPassageReader.Read(file, new AbcReadOptions { TuneNumber = choice.Tune, InstrumentId = chosen?.Id });

    private static ScoreReading ReadMidi(FileStream file, PassageChoice choice, Instrument? chosen)
    {
        Passage passage = MidiPassageReader.Read(file, new MidiReadOptions { Track = choice.Track, Channel = choice.Channel });
        file.Position = 0;
        chosen ??= Usual(MidiPassageReader.Describe(file), choice);
        return new ScoreReading(passage with { InstrumentId = chosen?.Id }, []);
    }

    private static Instrument? Usual(MidiDescription description, PassageChoice choice)
    {
        MidiPart part = description.Parts.First(part => (choice.Track ?? part.Track) == part.Track && (choice.Channel ?? part.Channel) == part.Channel);
        return part.Program is { } program ? InstrumentTable.ByProgram(program) : null;
    }

    /// <summary>The instrument that a person names.</summary>
    /// <exception cref="UsageException">There is no such instrument, or several.</exception>
    public static Instrument Named(string name) => InstrumentSearch.Find(name) switch
    {
        [Instrument only] => only,
        [] => throw new UsageException($"--instrument is '{name}', which is not known. Known are: {List(InstrumentTable.All)}."),
        var several => throw new UsageException($"--instrument is '{name}', which can mean several. Choose one of: {List(several)}."),
    };

    private static string List(IEnumerable<Instrument> instruments) => string.Join(", ", instruments.Select(instrument => instrument.Id));

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
            throw new InputException($"'{path}' could not be opened ({e.Message}). Give a MIDI, MusicXML or ABC file that you may read.", e);
        }
    }
}
