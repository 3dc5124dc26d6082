using System.Collections.Immutable;
using System.Globalization;
using EarCoach.Core.Passages;
using EarCoach.Scores.Written;

namespace EarCoach.Scores.Abc;

/// <summary>Reads a tune of one voice in ABC 2.1 into a passage.</summary>
/// <remarks>
/// <para>Understood: X T M L Q K and V (one voice) fields, also within a line; all keys and modes, accidentals of their own, octave clefs, transpose= and
/// octave=; notes with accidentals (to the end of the bar, in all octaves, as ABC 2.1 says), lengths, broken rhythm, ties, slurs, tuplets, rests,
/// bars of rest, bar lines, repeats and endings, grace notes, staccato, tenuto, accent, marcato, fermata. Passed over: words, chord symbols,
/// dynamics, bowings, comments, directives. Ornaments are read as plain notes, with a remark.</para>
/// <para>Refused with line and column: chords, several voices, overlays, microtones, macros, own symbols, an order of parts, jumps, and
/// whatever else is not understood. Source: the ABC music standard 2.1 (December 2011).</para>
/// </remarks>
public static class AbcPassageReader
{
    private const int MostQuarters = 100_000;

    /// <summary>Lists the tunes of a file. The stream is read to its end and left open.</summary>
    /// <exception cref="ScoreException">Not an ABC file.</exception>
    public static ImmutableArray<AbcTune> Describe(Stream stream) => [.. AbcText.Read(stream).Tunes.Select(tune => tune.Tune)];

    /// <summary>Lists the tunes of a file with their notes; a tune that cannot be read says why. The stream is read to its end and left open.</summary>
    /// <exception cref="ScoreException">Not an ABC file.</exception>
    public static ImmutableArray<ScoreLine> DescribeLines(Stream stream)
    {
        AbcText text = AbcText.Read(stream);
        return [.. text.Tunes.Select(entry => LineOf(text, entry.Tune))];
    }

    /// <summary>Reads one tune into a passage. The stream is read to its end and left open.</summary>
    /// <exception cref="ScoreException">Not an ABC file, one that is not understood, or several tunes and none chosen.</exception>
    public static ScoreReading Read(Stream stream, AbcReadOptions? options = null)
    {
        return ReadGuarded(AbcText.Read(stream), options ?? AbcReadOptions.Default);
    }

    private static ScoreReading ReadGuarded(AbcText text, AbcReadOptions options)
    {
        try
        {
            return ReadChosen(text, options);
        }
        catch (OverflowException exception)
        {
            throw new ScoreException(
                ScoreFailure.Malformed, "whole tune", "Its note lengths are too fine to be added up (more than 18 digits). Correct them and try again.", exception);
        }
    }

    private static ScoreLine LineOf(AbcText text, AbcTune tune)
    {
        string name = string.Create(CultureInfo.InvariantCulture, $"Tune {tune.Number}{(tune.Title is null ? string.Empty : $": {tune.Title}")}");
        try
        {
            ImmutableArray<PassageNote> notes = ReadGuarded(text, new AbcReadOptions { TuneNumber = tune.Number }).Passage.Notes;
            return new ScoreLine(name, notes.Length, notes.Min(note => note.MidiPitch), notes.Max(note => note.MidiPitch), tune.Title);
        }
        catch (ScoreException problem)
        {
            return new ScoreLine(name, null, null, null, tune.Title, problem.Message);
        }
    }

    private static ScoreReading ReadChosen(AbcText text, AbcReadOptions options)
    {
        (AbcTune tune, ImmutableArray<(int Number, string Text)> lines) = text.Choose(options.TuneNumber);
        AbcState state = new();
        AbcMeasures measures = new();
        AbcBody body = new(state, measures);
        foreach ((int number, string line) in text.FileHeader.Where(line => IsField(line.Text)))
        {
            state.Take(line[0], line[2..], number, 3, measures: null);
        }

        foreach ((int number, string line) in lines)
        {
            bool isInBody = state.FirstKey is not null;
            if (IsField(line))
            {
                state.Take(line[0], line[2..], number, 3, isInBody ? measures : null);
                BeginBody(state, measures, isInBody);
            }
            else if (isInBody)
            {
                body.ReadLine(line, number);
            }
            else if (line[0] != '%')
            {
                throw new AbcCursor(line, number).Malformed("Music begins before the K: field, which ends the head of a tune.");
            }
        }

        AbcCursor end = new(lines[^1].Text, lines[^1].Number) { Position = lines[^1].Text.Length };
        body.Finish(end);
        return ToReading(tune, state, measures, options, end);
    }

    /// <summary>A letter and a colon, where that is no note before a repeat sign.</summary>
    private static bool IsField(string line) => line.Length >= 2 && line[1] == ':' && (char.IsAsciiLetter(line[0]) || line[0] == '+') && !(line.Length > 2 && line[2] is '|' or ':');

    private static void BeginBody(AbcState state, AbcMeasures measures, bool wasInBody)
    {
        if (wasInBody || state.FirstKey is null)
        {
            return;
        }

        measures.SetMeter(state.Meter ?? new MeterMark(Fraction.Zero, 4, 4));
        if (state.HeaderTempo() is { } tempo)
        {
            measures.SetTempo(tempo);
        }
    }

    private static ScoreReading ToReading(AbcTune tune, AbcState state, AbcMeasures measures, AbcReadOptions options, AbcCursor end)
    {
        if (measures.Measures.Count == 0)
        {
            throw new ScoreException(ScoreFailure.NoNotes, end.Place, "The tune ends here without a note. Write its notes below the K: field.");
        }

        IReadOnlyList<int> order = PlayOrder.Of([.. measures.Measures.Select(measure => measure.Measure)], options.Repeats, $"tune X:{tune.Number}");
        MeasureLayout layout = new([.. order.Select(index => measures.Measures[index].Measure)]);
        LineBuilder line = new(options.GraceNotes, options.MostNotes);
        TempoLine tempi = new();
        for (int played = 0; played < order.Count; played++)
        {
            (WrittenMeasure measure, List<WrittenNote> notes) = measures.Measures[order[played]];
            tempi.Add(measure.Tempi, layout.Starts[played]);
            notes.ForEach(note => line.Add(note, layout.Starts[played] + note.Offset));
        }

        if (line.Notes.IsEmpty)
        {
            throw new ScoreException(ScoreFailure.NoNotes, end.Place, "The tune has no note to play, only rests or grace notes. Write its notes below the K: field.");
        }

        if (line.Notes[^1].End > MostQuarters)
        {
            throw new ScoreException(ScoreFailure.TooLarge, end.Place, $"The tune is more than {MostQuarters} quarter notes long, the most a passage is. Keep only the bars you practise.");
        }

        return new ScoreReading(ToPassage(tune, state, layout, line, tempi, options), [.. state.Remarks, .. line.Remarks]);
    }

    private static Passage ToPassage(AbcTune tune, AbcState state, MeasureLayout layout, LineBuilder line, TempoLine tempi, AbcReadOptions options)
    {
        Fraction end = line.Notes[^1].End;
        AbcKey key = state.FirstKey ?? AbcKey.None;
        Transposition usual = InstrumentTable.ById(options.InstrumentId)?.Transposition ?? Transposition.None;
        IEnumerable<TranspositionMark> marks = line.Transpositions.Select(mark => new TranspositionMark(mark.At, mark.Transposition));
        return new Passage
        {
            Title = options.Title ?? tune.Title ?? "Untitled",
            InstrumentId = options.InstrumentId,
            Notes = line.Notes,
            Tempi = tempi.Until(end),
            Meters = [.. layout.Meters.Where(mark => mark.At < end)],
            Pickup = layout.Pickup < end ? layout.Pickup : Fraction.Zero,
            FirstBarNumber = layout.FirstBarNumber,
            KeyFifths = WrittenPitch.SoundingKeyFifths(key.Fifths, key.Transposition),
            Transpositions = [.. line.Transpositions[0].Transposition == usual ? marks.Skip(1) : marks],
        };
    }
}
