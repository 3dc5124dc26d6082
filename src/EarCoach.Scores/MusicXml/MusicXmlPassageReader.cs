using System.Collections.Immutable;
using EarCoach.Core.Passages;
using EarCoach.Scores.Written;

namespace EarCoach.Scores.MusicXml;

/// <summary>Reads one voice of a MusicXML 4.0 file (score-partwise; .musicxml, .xml or compressed .mxl) into a passage.</summary>
/// <remarks>Read: pitch with transposition (also where it changes), ties (joined), slurs, staccato, tenuto, accent, marcato, fermata, tempo, metre, key,
/// pickup, repeats with voltas, grace notes, ritardando and the like (time is free until the tempo returns). Jumps are refused; ornaments are read
/// as plain notes, with a remark. No document type definition is read and nothing outside the file is fetched.</remarks>
public static class MusicXmlPassageReader
{
    private const int MostQuarters = 100_000;

    /// <summary>Lists what can be chosen from the file. The stream is read to its end and left open.</summary>
    /// <exception cref="ScoreException">Not a MusicXML file, or one that cannot be used.</exception>
    public static MusicXmlDescription Describe(Stream stream) => Guarded(() =>
    {
        WrittenScore score = WrittenScore.Read(stream);
        return new MusicXmlDescription(score.Title, [.. score.Parts.SelectMany(part => part.Voices())]);
    });

    /// <summary>Reads one voice into a passage. The stream is read to its end and left open.</summary>
    /// <exception cref="ScoreException">Not a MusicXML file, one that cannot be used, several voices and none chosen, or chords in the chosen voice.</exception>
    public static ScoreReading Read(Stream stream, MusicXmlReadOptions? options = null) => Guarded(() => ReadChosen(stream, options ?? MusicXmlReadOptions.Default));

    private static ScoreReading ReadChosen(Stream stream, MusicXmlReadOptions options)
    {
        WrittenScore score = WrittenScore.Read(stream);
        (WrittenPart part, string voice) = MusicXmlVoiceChoice.Choose(score, options);
        IReadOnlyList<int> order = PlayOrder.Of([.. part.Measures.Select(measure => measure.Measure)], options.Repeats, $"part {part.Id}");
        MeasureLayout layout = new([.. order.Select(index => part.Measures[index].Measure)]);
        LineBuilder line = new(options.GraceNotes, options.MostNotes);
        TempoLine tempi = new();
        for (int played = 0; played < order.Count; played++)
        {
            Fraction start = layout.Starts[played];
            if (start > MostQuarters)
            {
                throw new ScoreException(
                    ScoreFailure.TooLarge, $"part {part.Id}", $"The part is more than {MostQuarters} quarter notes long, the most a passage is. Export only the bars you practise.");
            }

            tempi.Add(TempiOf(score, part, order[played]), start);
            if (part.Measures[order[played]].Voices.TryGetValue(voice, out List<WrittenNote>? notes))
            {
                notes.OrderBy(note => note.Offset).ToList().ForEach(note => line.Add(note, start + note.Offset));
            }
        }

        Passage passage = ToPassage(score, part, layout, line, tempi, options);
        string[] remarks = layout.Remark is { } remark && (options.Repeats == RepeatReading.WrittenOut || order.Count == part.Measures.Count) ? [remark] : [];
        return new ScoreReading(passage, [.. part.Reader.Remarks, .. line.Remarks, .. remarks]);
    }

    private static Passage ToPassage(
        WrittenScore score, WrittenPart part, MeasureLayout layout, LineBuilder line, TempoLine tempi, MusicXmlReadOptions options)
    {
        ImmutableArray<PassageNote> notes = line.Notes;
        if (notes.IsEmpty)
        {
            throw new ScoreException(ScoreFailure.NoNotes, $"part {part.Id}", "No note is left to play (grace notes at the very start have no time). Choose another part.");
        }

        Fraction end = notes[^1].End;
        Instrument? instrument = InstrumentTable.ById(options.InstrumentId) ?? MusicXmlInstrument.Of(part, line.Transpositions[0].Transposition);
        IEnumerable<TranspositionMark> transpositions = line.Transpositions.Select(mark => new TranspositionMark(mark.At, mark.Transposition));
        bool firstIsUsual = line.Transpositions[0].Transposition == (instrument?.Transposition ?? Transposition.None);
        return new Passage
        {
            Title = options.Title ?? score.Title ?? part.Name ?? "Untitled",
            InstrumentId = options.InstrumentId ?? instrument?.Id,
            Notes = notes,
            Tempi = tempi.Until(end),
            Meters = [.. layout.Meters.Where(mark => mark.At < end)],
            Pickup = layout.Pickup < end ? layout.Pickup : Fraction.Zero,
            FirstBarNumber = layout.FirstBarNumber,
            KeyFifths = part.Reader.Key is { } key ? WrittenPitch.SoundingKeyFifths(key.Fifths, key.Transposition) : 0,
            Transpositions = [.. firstIsUsual ? transpositions.Skip(1) : transpositions],
        };
    }

    /// <summary>The tempo marks of a measure: the part's own, else those of the first part that has some there.</summary>
    private static List<(Fraction Offset, double QuartersPerMinute)> TempiOf(WrittenScore score, WrittenPart part, int index) => score.Parts
        .Prepend(part)
        .Where(other => index < other.Measures.Count)
        .Select(other => other.Measures[index].Measure.Tempi)
        .FirstOrDefault(marks => marks.Count > 0, []);

    /// <summary>Note values of ever other denominators can outgrow 64 bits; no printed music does.</summary>
    private static T Guarded<T>(Func<T> read)
    {
        try
        {
            return read();
        }
        catch (OverflowException exception)
        {
            throw new ScoreException(
                ScoreFailure.Malformed, "whole file", "Its note values are too fine to be added up (more than 18 digits). Check the divisions and export the file again.", exception);
        }
    }
}
