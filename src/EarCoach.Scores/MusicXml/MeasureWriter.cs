using System.Collections.Immutable;
using System.Globalization;
using System.Xml;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.MusicXml;

/// <summary>Writes measure elements: attributes, tempo marks, notes.</summary>
internal sealed class MeasureWriter(XmlWriter xml, Passage passage, ImmutableArray<bool> graces, BarMap bars, Fraction divisions)
{
    private readonly NoteWriter _notes = new(xml, passage, divisions);
    private readonly Clef _usualClef = InstrumentTable.ById(passage.InstrumentId)?.Clef ?? ClefFor(passage);
    private Transposition? _transposition;
    private Clef? _clef;

    public void Write(int bar, List<ScorePiece> pieces)
    {
        Fraction start = bars.StartOf(bar);
        bool isPickup = bar < passage.FirstBarNumber;
        bool isFirst = bar == bars.StartBar;
        xml.WriteStartElement("measure");
        xml.WriteAttributeString("number", Text(bar));
        if (isPickup)
        {
            xml.WriteAttributeString("implicit", "yes");
        }

        bool hasMetre = isFirst || passage.Meters.Any(mark => mark.At == start && mark.At > passage.Pickup);
        WriteAttributes(start, isFirst, hasMetre ? bars.MeterOf(bar) : null);
        _notes.BeginBar(WrittenPitch.KeyFifths(passage.KeyFifths, _transposition ?? Transposition.None));
        foreach (TempoMark mark in passage.Tempi.Where(mark => mark.At >= start && mark.At < start + bars.LengthOf(bar)))
        {
            WriteTempo(mark, mark.At - start, bars.MeterOf(bar));
        }

        IReadOnlyList<string>[] beams = Beaming.Of(pieces, bars);
        List<string>[] tuplets = TupletBrackets(pieces);
        for (int index = 0; index < pieces.Count; index++)
        {
            if (pieces[index] is { NoteIndex: { } note, Order: 0 })
            {
                WriteAttributes(pieces[index].Start, isFirst: false, meter: null);
                WriteGraces(note);
            }

            _notes.Write(pieces[index], beams[index], tuplets[index]);
        }

        if (start + bars.LengthOf(bar) >= passage.End)
        {
            WriteFinalBarline();
        }

        xml.WriteEndElement();
    }

    /// <summary>The grace notes that lead to a note.</summary>
    private void WriteGraces(int note)
    {
        int first = note;
        while (first > 0 && graces[first - 1])
        {
            first--;
        }

        for (int grace = first; grace < note; grace++)
        {
            _notes.WriteGrace(grace, grace - first, note - first);
        }
    }

    private static string Text(long value) => value.ToString(CultureInfo.InvariantCulture);

    private void WriteFinalBarline()
    {
        xml.WriteStartElement("barline");
        xml.WriteAttributeString("location", "right");
        xml.WriteElementString("bar-style", "light-heavy");
        xml.WriteEndElement();
    }

    private void WriteAttributes(Fraction at, bool isFirst, MeterMark? meter)
    {
        Transposition transposition = WrittenPitch.TranspositionAt(passage, at);
        Clef clef = passage.Transpositions.LastOrDefault(mark => mark.At <= at)?.Clef ?? _usualClef;
        bool isNew = isFirst || transposition != _transposition;
        if (!isNew && meter is null && clef == _clef)
        {
            return;
        }

        xml.WriteStartElement("attributes");
        if (isFirst)
        {
            xml.WriteElementString("divisions", Text(divisions.Numerator));
        }

        if (isNew)
        {
            xml.WriteStartElement("key");
            xml.WriteElementString("fifths", Text(WrittenPitch.KeyFifths(passage.KeyFifths, transposition)));
            xml.WriteEndElement();
        }

        if (meter is not null)
        {
            xml.WriteStartElement("time");
            xml.WriteElementString("beats", Text(meter.Beats));
            xml.WriteElementString("beat-type", Text(meter.BeatType));
            xml.WriteEndElement();
        }

        if (isFirst || clef != _clef)
        {
            xml.WriteStartElement("clef");
            xml.WriteElementString("sign", clef.Sign.ToString());
            xml.WriteElementString("line", Text(clef.Line));
            xml.WriteEndElement();
        }

        if (isNew && !(isFirst && transposition == Transposition.None))
        {
            WriteTransposition(transposition);
        }

        xml.WriteEndElement();
        _transposition = transposition;
        _clef = clef;
    }

    private void WriteTransposition(Transposition transposition)
    {
        xml.WriteStartElement("transpose");
        xml.WriteElementString("diatonic", Text(transposition.Diatonic));
        xml.WriteElementString("chromatic", Text(transposition.Chromatic));
        if (transposition.OctaveChange != 0)
        {
            xml.WriteElementString("octave-change", Text(transposition.OctaveChange));
        }

        xml.WriteEndElement();
    }

    /// <summary>Without an instrument: the clef that needs fewer ledger lines.</summary>
    private static Clef ClefFor(Passage passage)
    {
        const int MiddleC = 60;
        return passage.Notes.Average(note => note.MidiPitch) < MiddleC ? Clef.Bass : Clef.Treble;
    }

    private void WriteTempo(TempoMark mark, Fraction offset, MeterMark meter)
    {
        MoveCursor("forward", offset);
        bool isCompound = meter.BeatType >= 8 && meter.Beats > 3 && meter.Beats % 3 == 0;
        Fraction unit = isCompound ? meter.BeatLength * 3 : meter.BeatType == 2 ? 2 : 1;
        NoteValue value = NoteValue.Of(unit) ?? default;
        xml.WriteStartElement("direction");
        xml.WriteAttributeString("placement", "above");
        xml.WriteStartElement("direction-type");
        xml.WriteStartElement("metronome");
        xml.WriteElementString("beat-unit", value.Type);
        if (value.Dots == 1)
        {
            xml.WriteElementString("beat-unit-dot", null);
        }

        xml.WriteElementString("per-minute", (mark.QuartersPerMinute / unit.ToDouble()).ToString("0.##", CultureInfo.InvariantCulture));
        xml.WriteEndElement();
        xml.WriteEndElement();
        xml.WriteStartElement("sound");
        xml.WriteAttributeString("tempo", mark.QuartersPerMinute.ToString("R", CultureInfo.InvariantCulture));
        xml.WriteEndElement();
        xml.WriteEndElement();
        MoveCursor("backup", offset);
    }

    private void MoveCursor(string element, Fraction offset)
    {
        if (offset > Fraction.Zero)
        {
            xml.WriteStartElement(element);
            xml.WriteElementString("duration", Text((offset * divisions).Numerator));
            xml.WriteEndElement();
        }
    }

    /// <summary>A bracket from the first of a tuplet to the note that completes a plain note value.</summary>
    private static List<string>[] TupletBrackets(List<ScorePiece> pieces)
    {
        List<string>[] brackets = [.. pieces.Select(_ => new List<string>())];
        int first = 0;
        while (first < pieces.Count)
        {
            int last = first;
            int actual = pieces[first].Value?.ActualNotes ?? 1;
            while (actual > 1 && !IsComplete(pieces, first, last) && last + 1 < pieces.Count && pieces[last + 1].Value?.ActualNotes == actual)
            {
                last++;
            }

            if (actual > 1)
            {
                brackets[first].Add("start");
                brackets[last].Add("stop");
            }

            first = last + 1;
        }

        return brackets;
    }

    private static bool IsComplete(List<ScorePiece> pieces, int first, int last) => long.IsPow2((pieces[last].End - pieces[first].Start).Denominator);
}
