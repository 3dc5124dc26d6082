using System.Xml.Linq;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.MusicXml;

/// <summary>Slurs, articulations and this program's own marks of a note element.</summary>
internal static class NoteMarks
{
    /// <summary>Marks of ours, kept in an other-notation element, where MusicXML has no word for what a passage says.</summary>
    public const string Optional = "earcoach:optional";
    public const string Grace = "earcoach:grace-note";
    public const string FreeTime = "earcoach:free-time";
    public const string StrictTime = "earcoach:strict-time";

    public static Articulations ArticulationsOf(XElement note)
    {
        Articulations marks = note.Elements("notations").Elements("fermata").Any() ? Articulations.Fermata : Articulations.None;
        foreach (XElement mark in note.Elements("notations").Elements("articulations").Elements())
        {
            marks |= mark.Name.LocalName switch
            {
                "staccato" or "staccatissimo" => Articulations.Staccato,
                "tenuto" => Articulations.Tenuto,
                "detached-legato" => Articulations.Staccato | Articulations.Tenuto,
                "accent" => Articulations.Accent,
                "strong-accent" => Articulations.Marcato,
                _ => Articulations.None,
            };
        }

        return marks;
    }

    public static IReadOnlyList<string> SlursOf(XElement note, string type) =>
    [
        .. note.Elements("notations").Elements("slur")
            .Where(slur => (string?)slur.Attribute("type") == type)
            .Select(slur => (string?)slur.Attribute("number") ?? "1"),
    ];

    public static bool HasTie(XElement note, string type) =>
        note.Elements("tie").Any(tie => (string?)tie.Attribute("type") == type)
        || (!note.Elements("tie").Any() && note.Elements("notations").Elements("tied").Any(tie => (string?)tie.Attribute("type") == type));

    public static bool HasOwn(XElement note, string mark) => note.Elements("notations").Elements("other-notation").Any(other => other.Value == mark);

    /// <summary>The first ornament that is read as a plain note, or null.</summary>
    public static string? OrnamentOf(XElement note) => note.Elements("notations").Elements("ornaments").Elements()
        .Select(ornament => ornament.Name.LocalName)
        .FirstOrDefault(name => name is not "accidental-mark");
}
