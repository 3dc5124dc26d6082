using EarCoach.App.Web.Practice;
using EarCoach.Core.Passages;
using EarCoach.Scores.Midi;
using EarCoach.Scores.MusicXml;

namespace EarCoach.App.Web.Library;

/// <summary>Which notes of a passage, in which rhythm, are shown or written to a file.</summary>
/// <param name="First">First note, from 0; null: from the start.</param>
/// <param name="Last">Last note, included; null: to the end.</param>
/// <param name="Variant">Code of a rhythm; null or "": as written.</param>
/// <param name="Scaling">How fast its short notes are.</param>
internal sealed record ExportFile(int? First, int? Last, string? Variant, VariantScaling? Scaling)
{
    /// <summary>Those notes.</summary>
    /// <exception cref="SetupException">The passage has no such notes, or there is no such rhythm.</exception>
    public Passage Of(Passage passage)
    {
        try
        {
            Passage part = First is null && Last is null
                ? passage
                : Excerpt.OfNotes(passage, new NoteRange(First ?? 0, Last ?? passage.Notes.Length - 1));
            if (string.IsNullOrEmpty(Variant))
            {
                return part;
            }

            RhythmVariant rhythm = RhythmVariants.ByCode(Variant) ?? throw new SetupException($"There is no rhythm '{Variant}'. Choose one of the list.");
            return RhythmVariation.Apply(part, rhythm, Scaling ?? VariantScaling.EqualTotal) with { Title = $"{part.Title}, {rhythm.Name}" };
        }
        catch (ArgumentException e)
        {
            throw new SetupException(e.Message);
        }
    }

    /// <summary>A file of a format: its bytes, media type and the ending of its name.</summary>
    /// <exception cref="SetupException">There is no such format.</exception>
    /// <exception cref="Scores.ScoreException">The format cannot hold the notes exactly.</exception>
    public static (byte[] Bytes, string MediaType, string Ending) Write(Passage passage, string? format) => format switch
    {
        "midi" => (MidiPassageWriter.ToBytes(passage), "audio/midi", ".mid"),
        "musicxml" => (MusicXmlPassageWriter.ToBytes(passage), ShownScore.MediaType, ".musicxml"),
        "mxl" => (MusicXmlPassageWriter.ToBytes(passage, new MusicXmlWriteOptions { Compressed = true }), "application/vnd.recordare.musicxml", ".mxl"),
        _ => throw new SetupException($"The format '{format}' is not written; choose midi, musicxml or mxl."),
    };

    /// <summary>A title as the name of a file on any system.</summary>
    public static string NameOf(string title)
    {
        string plain = string.Concat(title.Select(sign => char.IsAsciiLetterOrDigit(sign) ? sign : '-'));
        string name = string.Join('-', plain.Split('-', StringSplitOptions.RemoveEmptyEntries));
        return name.Length == 0 ? "passage" : name[..Math.Min(name.Length, 60)];
    }
}
