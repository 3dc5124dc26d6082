using System.Globalization;
using System.Text.Json;
using EarCoach.Core.Passages;

namespace EarCoach.ReferenceTests;

/// <summary>Where labelled sounds come from.</summary>
internal static class LabelledSounds
{
    private const double SilenceSeconds = 0.5;
    private const double NextNoteSeconds = 0.15; // the tuba's next note sounds up to so long before the marked end of the note before
    private const double SoundingDb = 20; // below a tone's loudest moment

    /// <summary>Isolated tones of real instruments: where they sound is told by their own level.</summary>
    public static IEnumerable<LabelledSound> IsolatedNotes()
    {
        foreach (string[] row in Places.Table("INDEX.tsv"))
        {
            Sound sound = Sound.Read(Places.Recording(row[0])).Framed(SilenceSeconds, 0.03);
            (double first, double last) = SoundingPart(sound);
            Instrument instrument = InstrumentOf(row[1]);
            yield return new LabelledSound(row[0], sound, [new LabelledNote(first, last, MidiOf(row[3]))], instrument.EarLowest, instrument.EarHighest);
        }
    }

    /// <summary>Chromatic sequences of a real tuba; their onsets were marked by people.</summary>
    public static IEnumerable<LabelledSound> TubaSequences()
    {
        foreach (IGrouping<string, string[]> file in Places.Table("SEQUENCES.tsv").GroupBy(row => row[0]))
        {
            Sound sound = Sound.Read(Places.Recording(file.Key));
            LabelledNote[] notes = [.. file.Select(row => new LabelledNote(Number(row[2]), SoundingUntil(sound, Number(row[2]), Number(row[3]) - NextNoteSeconds), MidiOf(row[5])))];
            int lowest = Math.Min(InstrumentTable.ById("tuba")!.EarLowest, (int)notes.Min(n => n.Midi) - 1); // one sequence reaches below the tuba's usual range
            yield return new LabelledSound(file.Key, sound, notes, lowest, InstrumentTable.ById("tuba")!.EarHighest);
        }
    }

    /// <summary>The project's passages, played by fluidsynth as they stand.</summary>
    public static IEnumerable<LabelledSound> RenderedPassages()
    {
        foreach (string path in Places.PassageFiles)
        {
            Passage passage = Places.PassageOf(Path.GetFileNameWithoutExtension(path));
            double quarter = 60 / passage.Tempi[0].QuartersPerMinute;
            LabelledNote[] notes = [.. passage.Notes.Select(n => new LabelledNote(n.Onset.ToDouble() * quarter, (n.Onset + n.Length).ToDouble() * quarter, n.MidiPitch))];
            LabelledNote[] shifted = [.. notes.Select(n => n with { OnsetSeconds = n.OnsetSeconds + SilenceSeconds, OffsetSeconds = n.OffsetSeconds + SilenceSeconds })];
            yield return new LabelledSound(
                Path.GetFileName(path), Fluidsynth.Render(path).Framed(SilenceSeconds, 0.03), shifted, (int)notes.Min(n => n.Midi) - 7, (int)notes.Max(n => n.Midi) + 7);
        }
    }

    /// <summary>The clean attempts of the project's recordings: with a room, breath and noise.</summary>
    public static IEnumerable<LabelledSound> CleanAttempts()
    {
        foreach (string path in Directory.GetFiles(Path.Combine(Places.Repository, "reference-audio"), "*.json").Order(StringComparer.Ordinal))
        {
            using JsonDocument truth = JsonDocument.Parse(File.ReadAllText(path));
            Sound whole = Sound.Read(Path.ChangeExtension(path, ".wav"));
            foreach (JsonElement attempt in truth.RootElement.GetProperty("attempts").EnumerateArray().Where(a => a.GetProperty("verdict").GetString() == "clean"))
            {
                double from = attempt.GetProperty("start").GetDouble() - SilenceSeconds;
                double to = attempt.GetProperty("end").GetDouble() + SilenceSeconds;
                float[] part = whole.Samples[(int)(from * whole.SampleRateHz)..Math.Min(whole.Samples.Length, (int)(to * whole.SampleRateHz))];
                LabelledNote[] notes = [.. attempt.GetProperty("notes").EnumerateArray().Select(n => OfTruth(n, from))];
                yield return new LabelledSound(
                    Path.GetFileName(path), whole with { Samples = part }, notes, (int)notes.Min(n => n.Midi) - 7, (int)notes.Max(n => n.Midi) + 7);
            }
        }
    }

    /// <summary>The instrument that a table of recordings names.</summary>
    public static Instrument InstrumentOf(string name) => InstrumentSearch.Find(name.Replace('-', ' ')) is [Instrument only]
        ? only
        : throw new InvalidOperationException($"INDEX.tsv names the instrument '{name}', which the instrument table lacks.");

    private static LabelledNote OfTruth(JsonElement note, double fromSeconds) => new(
        note.GetProperty("onset").GetDouble() - fromSeconds,
        note.GetProperty("offset").GetDouble() - fromSeconds,
        note.GetProperty("played").GetInt32() + (note.GetProperty("cents").GetDouble() / 100));

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static double MidiOf(string hz) => 69 + (12 * Math.Log2(Number(hz) / 440));

    /// <summary>Where the sound between two moments falls for good below its sounding level: labels of the end include the ring of the room.</summary>
    private static double SoundingUntil(Sound sound, double from, double to)
    {
        var part = sound with { Samples = sound.Samples[(int)(from * sound.SampleRateHz)..Math.Min(sound.Samples.Length, (int)(to * sound.SampleRateHz))] };
        return from + SoundingPart(part).Last;
    }

    private static (double First, double Last) SoundingPart(Sound sound)
    {
        int size = sound.SampleRateHz / 50;
        double[] energy = [.. Enumerable.Range(0, sound.Samples.Length / size).Select(k => sound.Samples.AsSpan(k * size, size).ToArray().Sum(x => (double)x * x))];
        double least = energy.Max() * Math.Pow(10, -SoundingDb / 10);
        return (Array.FindIndex(energy, e => e >= least) / 50.0, (Array.FindLastIndex(energy, e => e >= least) + 1) / 50.0);
    }
}
