using System.Globalization;
using System.Xml;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.MusicXml;

/// <summary>Writes note elements.</summary>
internal sealed class NoteWriter(XmlWriter xml, Passage passage, Fraction divisions)
{
    private readonly AccidentalState _accidentals = new();

    public void BeginBar(int keyFifths) => _accidentals.BeginBar(keyFifths);

    /// <summary>One note or rest, its children in the order of the schema.</summary>
    /// <param name="piece">What to write.</param>
    /// <param name="beams">Level 1 first.</param>
    /// <param name="tuplet">"start", "stop" or both.</param>
    public void Write(ScorePiece piece, IReadOnlyList<string> beams, IReadOnlyList<string> tuplet)
    {
        xml.WriteStartElement("note");
        string? accidental = piece.NoteIndex is { } index ? WritePitch(piece, index) : WriteRest(piece);
        xml.WriteElementString("duration", Text((piece.Length * divisions).Numerator));
        bool tiesBack = piece.NoteIndex is not null && piece.Order > 0;
        bool tiesOn = piece.NoteIndex is not null && !piece.IsLast;
        WriteTies("tie", tiesBack, tiesOn);
        xml.WriteElementString("voice", "1");
        WriteValue(piece, accidental);
        for (int level = 0; level < beams.Count; level++)
        {
            xml.WriteStartElement("beam");
            xml.WriteAttributeString("number", Text(level + 1));
            xml.WriteString(beams[level]);
            xml.WriteEndElement();
        }

        WriteNotations(piece, tiesBack, tiesOn, tuplet);
        xml.WriteEndElement();
    }

    /// <summary>One grace note; several before one note are beamed as sixteenths, a single one is an eighth with a stroke (common practice).</summary>
    /// <param name="index">Its place in the passage.</param>
    /// <param name="place">Its place among those that lead to the same note, from 0.</param>
    /// <param name="count">How many lead to that note.</param>
    public void WriteGrace(int index, int place, int count)
    {
        ScorePiece piece = new(passage.Notes[index].Onset, passage.Notes[index].Length, index, Order: 0, IsLast: true, FillsBar: false);
        xml.WriteStartElement("note");
        string? accidental = WritePitch(piece, index, grace: () =>
        {
            xml.WriteStartElement("grace");
            if (count == 1)
            {
                xml.WriteAttributeString("slash", "yes");
            }

            xml.WriteEndElement();
        });
        xml.WriteElementString("voice", "1");
        xml.WriteElementString("type", count == 1 ? "eighth" : "16th");
        if (accidental is not null)
        {
            xml.WriteElementString("accidental", accidental);
        }

        for (int level = 1; count > 1 && level <= 2; level++)
        {
            xml.WriteStartElement("beam");
            xml.WriteAttributeString("number", Text(level));
            xml.WriteString(place == 0 ? "begin" : place == count - 1 ? "end" : "continue");
            xml.WriteEndElement();
        }

        List<Action> notations = [];
        AddSlurs(notations, piece, index);
        WriteAll(notations);
        xml.WriteEndElement();
    }

    private static string Text(long value) => value.ToString(CultureInfo.InvariantCulture);

    private string? WritePitch(ScorePiece piece, int index, Action? grace = null)
    {
        PitchSpelling written = WrittenPitch.Of(passage, passage.Notes[index]);
        xml.WriteAttributeString("id", piece.Order == 0 ? $"n{index}" : $"n{index}-{piece.Order + 1}");
        grace?.Invoke();
        xml.WriteStartElement("pitch");
        xml.WriteElementString("step", written.Step.ToString());
        if (written.Alter != 0)
        {
            xml.WriteElementString("alter", Text(written.Alter));
        }

        xml.WriteElementString("octave", Text(written.Octave));
        xml.WriteEndElement();

        // A note tied over from before needs no accidental again.
        return piece.Order == 0 ? _accidentals.For(written) : null;
    }

    private string? WriteRest(ScorePiece piece)
    {
        xml.WriteStartElement("rest");
        if (piece.FillsBar)
        {
            xml.WriteAttributeString("measure", "yes");
        }

        xml.WriteEndElement();
        return null;
    }

    private void WriteTies(string element, bool tiesBack, bool tiesOn)
    {
        if (tiesBack)
        {
            WriteTyped(element, "stop");
        }

        if (tiesOn)
        {
            WriteTyped(element, "start");
        }
    }

    private void WriteValue(ScorePiece piece, string? accidental)
    {
        bool hasValue = piece.Value is not null && !piece.FillsBar;
        NoteValue value = piece.Value ?? default;
        if (hasValue)
        {
            xml.WriteElementString("type", value.Type);
            for (int dot = 0; dot < value.Dots; dot++)
            {
                xml.WriteElementString("dot", null);
            }
        }

        if (accidental is not null)
        {
            xml.WriteElementString("accidental", accidental);
        }

        if (hasValue && value.ActualNotes > 1)
        {
            xml.WriteStartElement("time-modification");
            xml.WriteElementString("actual-notes", Text(value.ActualNotes));
            xml.WriteElementString("normal-notes", Text(value.NormalNotes));
            xml.WriteEndElement();
        }
    }

    private void WriteNotations(ScorePiece piece, bool tiesBack, bool tiesOn, IReadOnlyList<string> tuplet)
    {
        List<Action> notations = [];
        if (tiesBack || tiesOn)
        {
            notations.Add(() => WriteTies("tied", tiesBack, tiesOn));
        }

        if (piece.NoteIndex is { } index)
        {
            AddSlurs(notations, piece, index);
        }

        notations.AddRange(tuplet.Select(type => (Action)(() => WriteTyped("tuplet", type))));

        if (piece.NoteIndex is { } noteIndex)
        {
            AddMarks(notations, piece, noteIndex);
        }

        WriteAll(notations);
    }

    private void WriteAll(List<Action> notations)
    {
        if (notations.Count > 0)
        {
            xml.WriteStartElement("notations");
            notations.ForEach(write => write());
            xml.WriteEndElement();
        }
    }

    /// <summary>A slur runs from the note before the first that is slurred from its predecessor to the last such note.</summary>
    private void AddSlurs(List<Action> notations, ScorePiece piece, int index)
    {
        bool isSlurred = passage.Notes[index].SlurredFromPrevious;
        bool slursOn = index + 1 < passage.Notes.Length && passage.Notes[index + 1].SlurredFromPrevious;
        if (piece.Order == 0 && slursOn && !isSlurred)
        {
            notations.Add(() => WriteTyped("slur", "start", number: "1"));
        }

        if (piece.IsLast && isSlurred && !slursOn)
        {
            notations.Add(() => WriteTyped("slur", "stop", number: "1"));
        }
    }

    private void AddMarks(List<Action> notations, ScorePiece piece, int index)
    {
        PassageNote note = passage.Notes[index];
        if (piece.Order == 0)
        {
            string[] names = [.. NamesOf(note.Articulations)];
            if (names.Length > 0)
            {
                notations.Add(() =>
                {
                    xml.WriteStartElement("articulations");
                    Array.ForEach(names, name => xml.WriteElementString(name, null));
                    xml.WriteEndElement();
                });
            }

            bool isFreeByFermata = index > 0 && passage.Notes[index - 1].Articulations.HasFlag(Articulations.Fermata);
            AddOwn(notations, !note.Required, NoteMarks.Optional);
            AddOwn(notations, note.IsGrace, NoteMarks.Grace);
            AddOwn(notations, !note.TimingJudged && !isFreeByFermata, NoteMarks.FreeTime);
            AddOwn(notations, note.TimingJudged && isFreeByFermata, NoteMarks.StrictTime);
        }

        if (piece.IsLast && note.Articulations.HasFlag(Articulations.Fermata))
        {
            notations.Add(() => WriteTyped("fermata", "upright"));
        }
    }

    private static IEnumerable<string> NamesOf(Articulations marks)
    {
        (Articulations Mark, string Name)[] names =
        [
            (Articulations.Accent, "accent"), (Articulations.Marcato, "strong-accent"), (Articulations.Staccato, "staccato"), (Articulations.Tenuto, "tenuto"),
        ];
        return names.Where(entry => marks.HasFlag(entry.Mark)).Select(entry => entry.Name);
    }

    private void AddOwn(List<Action> notations, bool applies, string mark)
    {
        if (applies)
        {
            notations.Add(() =>
            {
                xml.WriteStartElement("other-notation");
                xml.WriteAttributeString("type", "single");
                xml.WriteAttributeString("print-object", "no");
                xml.WriteString(mark);
                xml.WriteEndElement();
            });
        }
    }

    private void WriteTyped(string element, string type, string? number = null)
    {
        xml.WriteStartElement(element);
        xml.WriteAttributeString("type", type);
        if (number is not null)
        {
            xml.WriteAttributeString("number", number);
        }

        xml.WriteEndElement();
    }
}
