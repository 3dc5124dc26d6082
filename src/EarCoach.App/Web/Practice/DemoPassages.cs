using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Scores.Midi;

namespace EarCoach.App.Web.Practice;

/// <summary>The invented passages that came with the program: put into the library once, at its first start, with a recording of each.</summary>
internal sealed class DemoPassages(string folder)
{
    private const string SeededSetting = "page.demo-passages";

    // Instrument and key stand here: a Standard MIDI File names no transposing instrument. The ids stay the same in every library.
    private static readonly IReadOnlyList<Demo> _demos =
    [
        new("horn-valley-call", "Valley call", "horn-f", -1, new Guid("0b0c7e0e-6a53-4f0c-9c56-0d5f6d0f7a01")),
        new("trumpet-gate-signal", "Gate signal", "trumpet-bb", -2, new Guid("0b0c7e0e-6a53-4f0c-9c56-0d5f6d0f7a02")),
        new("clarinet-mill-wheel", "Mill wheel", "clarinet-bb", 1, new Guid("0b0c7e0e-6a53-4f0c-9c56-0d5f6d0f7a03")),
        new("flute-ferry-dance", "Ferry dance", "flute", 2, new Guid("0b0c7e0e-6a53-4f0c-9c56-0d5f6d0f7a04")),
        new("violin-loom-study", "Loom study", "violin", 0, new Guid("0b0c7e0e-6a53-4f0c-9c56-0d5f6d0f7a05")),
        new("bassoon-night-watch", "Night watch", "bassoon", -3, new Guid("0b0c7e0e-6a53-4f0c-9c56-0d5f6d0f7a06")),
    ];

    /// <summary>Adds them to a library that never had them. One that was deleted since stays deleted.</summary>
    public void Seed(IPassageLibrary library, ISettingsStore settings, TimeProvider time)
    {
        if (settings.Read(SeededSetting) is not null)
        {
            return;
        }

        foreach (Demo demo in _demos)
        {
            library.Save(new LibraryPassage { Id = demo.Id, Passage = Read(demo), AddedAt = time.GetLocalNow(), IsDemo = true });
        }

        settings.Write(SeededSetting, "1");
    }

    /// <summary>The name of the recording of a passage; null where there is none.</summary>
    public string? RecordingOf(LibraryPassage passage) =>
        _demos.FirstOrDefault(demo => demo.Id == passage.Id) is { } known && File.Exists(WavOf(known)) ? known.File : null;

    /// <summary>The WAV file of a recording; null where there is none of that name. Nothing of what is asked for is used as a path.</summary>
    public string? PathOf(string name) =>
        _demos.FirstOrDefault(demo => demo.File == name) is { } known && File.Exists(WavOf(known)) ? WavOf(known) : null;

    private string WavOf(Demo demo) => Path.Combine(folder, demo.File + ".wav");

    private Passage Read(Demo demo)
    {
        using FileStream midi = File.OpenRead(Path.Combine(folder, demo.File + ".mid"));
        return MidiPassageReader.Read(midi, new MidiReadOptions { Title = demo.Title, InstrumentId = demo.InstrumentId }) with { KeyFifths = demo.KeyFifths };
    }

    private sealed record Demo(string File, string Title, string InstrumentId, int KeyFifths, Guid Id);
}
