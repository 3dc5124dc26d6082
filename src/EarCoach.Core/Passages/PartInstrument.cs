using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>Says which instrument a passage is for and in which transposition its part is written.</summary>
/// <remarks>Either the sounding pitches stay and only what is written changes, or the written pitches stay and what sounds changes.</remarks>
public static class PartInstrument
{
    /// <summary>The same sounding notes, written for an instrument.</summary>
    /// <param name="passage">The passage.</param>
    /// <param name="instrument">The instrument; null: not known.</param>
    /// <param name="transposition">Of the part; null: the instrument's own. A crook of a horn, for example.</param>
    public static Passage KeepSounding(Passage passage, Instrument? instrument, Transposition? transposition = null)
    {
        ArgumentNullException.ThrowIfNull(passage);
        return passage with { InstrumentId = instrument?.Id, Transpositions = MarksOf(instrument, transposition) };
    }

    /// <summary>The same written notes, read by an instrument: what sounds follows from its transposition.</summary>
    /// <param name="passage">The passage; where it names no transposition, its notes are taken as written at sounding pitch.</param>
    /// <param name="instrument">The instrument; null: not known.</param>
    /// <param name="transposition">Of the part; null: the instrument's own.</param>
    /// <exception cref="ArgumentException">A note would lie outside MIDI 0 to 127.</exception>
    public static Passage KeepWritten(Passage passage, Instrument? instrument, Transposition? transposition = null)
    {
        ArgumentNullException.ThrowIfNull(passage);
        Transposition wanted = transposition ?? instrument?.Transposition ?? Transposition.None;
        int writtenKey = WrittenPitch.KeyFifths(passage.KeyFifths, WrittenPitch.TranspositionAt(passage, Fraction.Zero));
        return passage with
        {
            InstrumentId = instrument?.Id,
            KeyFifths = WrittenPitch.SoundingKeyFifths(writtenKey, wanted),
            Transpositions = MarksOf(instrument, transposition),
            Notes = [.. passage.Notes.Select(note => ReadIn(passage, note, wanted))],
        };
    }

    /// <summary>Some notes of the part stand in another transposition: another crook, or bass clef of the old notation.</summary>
    /// <param name="passage">The passage.</param>
    /// <param name="range">Which notes.</param>
    /// <param name="transposition">Of those notes.</param>
    /// <param name="clef">The clef they stand in; null: the usual one.</param>
    /// <param name="keepWritten">True: what is written stays and what sounds changes. False: the other way round.</param>
    /// <exception cref="ArgumentOutOfRangeException">The passage has no such notes.</exception>
    /// <exception cref="ArgumentException">A note would lie outside MIDI 0 to 127.</exception>
    public static Passage OfNotes(Passage passage, NoteRange range, Transposition transposition, Clef? clef, bool keepWritten)
    {
        ArgumentNullException.ThrowIfNull(passage);
        NoteRelaxation.RequireNotes(passage, range);
        Fraction start = range.First == 0 ? Fraction.Zero : passage.Notes[range.First].Onset;
        Fraction? next = range.Last + 1 < passage.Notes.Length ? passage.Notes[range.Last + 1].Onset : null;
        List<TranspositionMark> marks = [.. passage.Transpositions.Where(mark => mark.At < start), new TranspositionMark(start, transposition, clef)];
        if (next is { } after)
        {
            TranspositionMark? before = passage.Transpositions.LastOrDefault(mark => mark.At <= after);
            marks.Add(new TranspositionMark(after, WrittenPitch.TranspositionAt(passage, after), before?.Clef));
            marks.AddRange(passage.Transpositions.Where(mark => mark.At > after));
        }

        return passage with
        {
            Transpositions = WithoutRepeats(marks, InstrumentTable.ById(passage.InstrumentId)?.Transposition ?? Transposition.None),
            Notes = keepWritten
                ? [.. passage.Notes.Select((note, index) => index >= range.First && index <= range.Last ? ReadIn(passage, note, transposition) : note)]
                : passage.Notes,
        };
    }

    private static ImmutableArray<TranspositionMark> MarksOf(Instrument? instrument, Transposition? transposition) =>
        transposition is { } own && own != (instrument?.Transposition ?? Transposition.None) ? [new TranspositionMark(Fraction.Zero, own)] : [];

    private static ImmutableArray<TranspositionMark> WithoutRepeats(List<TranspositionMark> marks, Transposition usual)
    {
        ImmutableArray<TranspositionMark>.Builder kept = ImmutableArray.CreateBuilder<TranspositionMark>();
        foreach (TranspositionMark mark in marks)
        {
            Transposition inForce = kept.Count > 0 ? kept[^1].Transposition : usual;
            if (mark.Transposition != inForce || mark.Clef != (kept.Count > 0 ? kept[^1].Clef : null))
            {
                kept.Add(mark);
            }
        }

        return kept.ToImmutable();
    }

    private static PassageNote ReadIn(Passage passage, PassageNote note, Transposition transposition)
    {
        PitchSpelling written = WrittenPitch.Of(passage, note);
        int sounding = written.MidiPitch + transposition.Semitones;
        return sounding is >= 0 and <= 127
            ? note with { MidiPitch = sounding, WrittenSpelling = written }
            : throw new ArgumentException($"{new BarMap(passage).PositionOf(note.Onset)}: {written} would sound at MIDI {sounding}; 0 to 127 exist. Choose another instrument or crook.");
    }
}
