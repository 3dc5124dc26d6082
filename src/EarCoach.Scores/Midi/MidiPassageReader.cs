using System.Collections.Immutable;
using System.Globalization;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.Midi;

/// <summary>Reads one line of a Standard MIDI File (format 0 or 1) into a passage.</summary>
/// <remarks>The start of the passage is the start of the file: the first note keeps its real onset, so rests before it stay, and bar 1 is the
/// file's first bar. Ticks become exact fractions of a quarter note. Spelling, slurs and articulations are not in such files.
/// A metre mark that comes before its first bar is full makes what precedes it a pickup, as notation programs write one.
/// Source of the rules: RP-001, Standard MIDI Files 1.0: tempo in microseconds a quarter note, 120 quarters a minute and 4/4 where unset.</remarks>
public static class MidiPassageReader
{
    private const int MostQuarters = 100_000;

    /// <summary>Lists what can be chosen from the file. The stream is read to its end and left open.</summary>
    /// <exception cref="ScoreException">Not a MIDI file, or one that cannot be used.</exception>
    public static MidiDescription Describe(Stream stream)
    {
        SmfFile file = SmfReader.Read(stream);
        return new MidiDescription(file.Format, file.Tracks.Length, file.TicksPerQuarter, MidiPartChoice.PartsOf(file));
    }

    /// <summary>Reads one line into a passage. The stream is read to its end and left open.</summary>
    /// <exception cref="ScoreException">Not a MIDI file, one that cannot be used, several parts and none chosen, or chords in the chosen part.</exception>
    public static Passage Read(Stream stream, MidiReadOptions? options = null)
    {
        options ??= MidiReadOptions.Default;
        SmfFile file = SmfReader.Read(stream);
        MidiPart part = MidiPartChoice.Choose(file, options);
        if (part.NoteCount > options.MostNotes)
        {
            throw new ScoreException(
                ScoreFailure.TooLarge,
                $"track {part.Track}, channel {part.Channel}",
                string.Create(CultureInfo.InvariantCulture, $"The part has {part.NoteCount} notes; a passage has at most {options.MostNotes}. Export only the bars you practise."));
        }

        SmfNote[] notes = [.. file.Tracks[part.Track - 1].Notes.Where(note => note.Channel == part.Channel).OrderBy(note => note.Start)];
        long lastTick = notes.Max(note => note.End ?? note.Start);
        if (lastTick / file.TicksPerQuarter > MostQuarters)
        {
            throw new ScoreException(
                ScoreFailure.TooLarge,
                $"track {part.Track}, channel {part.Channel}",
                $"The last note ends {lastTick / file.TicksPerQuarter} quarter notes after the start; a passage has at most {MostQuarters}. Export only the bars you practise.");
        }

        (ImmutableArray<MeterMark> meters, Fraction pickup) = SmfMarks.MetersOf(file, lastTick);
        BarMap bars = new(meters, pickup, firstBarNumber: 1);
        return new Passage
        {
            Title = options.Title ?? part.Name ?? file.Tracks[0].Name ?? "Untitled",
            InstrumentId = options.InstrumentId ?? (part.Program is { } program ? InstrumentTable.ByProgram(program)?.Id : null),
            Notes = new SmfLine(file.TicksPerQuarter, bars, options.LongestOverlap).ToNotes(notes),
            Tempi = SmfMarks.TempiOf(file, lastTick),
            Meters = meters,
            Pickup = pickup,
            KeyFifths = SmfMarks.KeyOf(file),
        };
    }
}
