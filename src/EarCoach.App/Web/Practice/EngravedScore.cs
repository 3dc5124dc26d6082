using System.Globalization;
using System.Xml.Linq;
using EarCoach.Core.Passages;

namespace EarCoach.App.Web.Practice;

/// <summary>A passage as MusicXML for the page's engraver: in written pitch, with an id on each note, beams as the metre asks.</summary>
internal static class EngravedScore
{
    /// <summary>Media type of uncompressed MusicXML.</summary>
    public const string MediaType = "application/vnd.recordare.musicxml+xml";

    private static readonly (Fraction Length, string Type, int Dots)[] _values =
    [
        (4, "whole", 0), (3, "half", 1), (2, "half", 0), (new(3, 2), "quarter", 1), (1, "quarter", 0), (new(3, 4), "eighth", 1), (new(1, 2), "eighth", 0),
        (new(3, 8), "16th", 1), (new(1, 4), "16th", 0), (new(1, 8), "32nd", 0),
    ];

    /// <summary>The score. Note n bears the id "n" + n; its tied continuations "n" + n + "-2" and so on.</summary>
    public static string Of(Passage passage)
    {
        BarMap bars = new(passage);
        const int Divisions = 480;
        Transposition t = WrittenPitch.TranspositionAt(passage, Fraction.Zero);
        Clef clef = InstrumentTable.ById(passage.InstrumentId)?.Clef ?? Clef.Treble;
        int lastBar = bars.PositionOf(passage.Notes[^1].Onset).Bar;
        XElement part = new("part", new XAttribute("id", "P1"));
        for (int bar = bars.StartBar; bar <= lastBar; bar++)
        {
            XElement measure = new("measure", new XAttribute("number", bar));
            if (bar == bars.StartBar)
            {
                MeterMark meter = passage.Meters[0];
                measure.Add(new XElement("attributes",
                    new XElement("divisions", Divisions),
                    new XElement("key", new XElement("fifths", WrittenPitch.KeyFifths(passage.KeyFifths, t))),
                    new XElement("time", new XElement("beats", meter.Beats), new XElement("beat-type", meter.BeatType)),
                    new XElement("clef", new XElement("sign", clef == Clef.Bass ? "F" : "G"), new XElement("line", clef == Clef.Bass ? 4 : 2))));
            }

            Fraction at = bars.StartOf(bar);
            Fraction end = at + bars.LengthOf(bar);
            for (int i = 0; i < passage.Notes.Length; i++)
            {
                PassageNote note = passage.Notes[i];
                Fraction from = note.Onset > at ? note.Onset : at;
                Fraction noteEnd = note.Onset + note.Length;
                Fraction to = noteEnd < end ? noteEnd : end;
                if (from >= end || to <= at)
                {
                    continue;
                }

                Write(measure, from - at, Divisions, null, null);
                PitchSpelling s = WrittenPitch.Of(passage, note);
                Write(measure, to - from, Divisions, s, "n" + i);
                at = to;
            }

            Write(measure, end - at, Divisions, null, null);
            part.Add(measure);
        }

        XDocument document = new(new XElement("score-partwise", new XAttribute("version", "4.0"),
            new XElement("part-list", new XElement("score-part", new XAttribute("id", "P1"), new XElement("part-name", ""))), part));
        return document.ToString(SaveOptions.DisableFormatting);
    }

    private static void Write(XElement measure, Fraction length, int divisions, PitchSpelling? pitch, string? id)
    {
        int piece = 1;
        while (length > Fraction.Zero)
        {
            (Fraction value, string type, int dots) = _values.FirstOrDefault(v => v.Length <= length, _values[^1]);
            measure.Add(new XElement("note", id is null ? null : new XAttribute("id", piece == 1 ? id : id + "-" + piece.ToString(CultureInfo.InvariantCulture)),
                pitch is { } p ? new XElement("pitch", new XElement("step", p.Step), new XElement("alter", p.Alter), new XElement("octave", p.Octave)) : new XElement("rest"),
                new XElement("duration", (int)(value.ToDouble() * divisions)),
                new XElement("type", type), Enumerable.Range(0, dots).Select(_ => new XElement("dot"))));
            length -= value;
            piece++;
        }
    }
}
