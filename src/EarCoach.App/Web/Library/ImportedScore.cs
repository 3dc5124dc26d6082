using EarCoach.App.Web.Messages;
using EarCoach.Core.Passages;
using EarCoach.Scores;

namespace EarCoach.App.Web.Library;

/// <summary>Reads a file as the player chose.</summary>
internal static class ImportedScore
{
    private const string NoTitle = "Untitled"; // what the readers call a file that names itself nowhere

    /// <summary>What the file holds.</summary>
    /// <exception cref="ScoreException">It cannot be used.</exception>
    public static PageScoreContents Describe(byte[] bytes)
    {
        ScoreContents contents = ScoreFile.Describe(bytes);
        return new PageScoreContents(
            contents.Format switch { ScoreFormat.Midi => "MIDI", ScoreFormat.MusicXml => "MusicXML", _ => "ABC" },
            [.. contents.Lines.Select(line => new PageScoreLine(line.Name, AboutOf(line), CrooksOf(line.PartName), line.Problem))],
            contents.Format != ScoreFormat.Midi,
            contents.Format switch { ScoreFormat.Midi => "sounding", ScoreFormat.MusicXml => "file", _ => "written" });
    }

    /// <summary>The passage, for the instrument that was chosen.</summary>
    /// <exception cref="ScoreException">The file cannot be read.</exception>
    public static ScoreReading Read(byte[] bytes, ImportChoice choice)
    {
        ScoreReading reading = ScoreFile.Read(bytes, new ScoreReadOptions
        {
            Line = choice.Line,
            Title = string.IsNullOrWhiteSpace(choice.Title) ? null : choice.Title.Trim(),
            Repeats = choice.Repeats == "once" ? RepeatReading.AsPrinted : RepeatReading.WrittenOut,
            GraceNotes = choice.Graces == "dropped" ? GraceNoteReading.Dropped : GraceNoteReading.Optional,
        });
        Passage passage = reading.Passage;
        if (passage.Title == NoTitle && Path.GetFileNameWithoutExtension(choice.Name) is { Length: > 0 } name)
        {
            passage = passage with { Title = name };
        }

        return reading with { Passage = ForInstrument(passage, ScoreFile.FormatOf(bytes), choice) };
    }

    private static Passage ForInstrument(Passage passage, ScoreFormat? format, ImportChoice choice)
    {
        PartChoice part = PartChoice.Of(choice.Instrument ?? passage.InstrumentId, choice.Crook);
        if (choice.Pitches == "written")
        {
            // The numbers of a MIDI file, whatever instrument it names, are then those of the page.
            return PartInstrument.KeepWritten(format == ScoreFormat.Midi ? passage with { InstrumentId = null } : passage, part.Instrument, part.Transposition);
        }

        bool isAsInTheFile = part.Instrument?.Id == passage.InstrumentId && part.Crook is null;
        return isAsInTheFile ? passage : PartInstrument.KeepSounding(passage, part.Instrument, part.Transposition);
    }

    /// <summary>Only a name that speaks of a horn and a key says anything about a crook.</summary>
    private static IReadOnlyList<PageChoice> CrooksOf(string? name)
    {
        string heading = (name ?? string.Empty).Trim();
        int start = Math.Max(heading.IndexOf("horn in ", StringComparison.OrdinalIgnoreCase), heading.IndexOf("corno in ", StringComparison.OrdinalIgnoreCase));
        bool isOther = start > 0 && char.IsLetter(heading[start - 1]); // a flugelhorn
        return start < 0 || isOther || heading.Contains("english", StringComparison.OrdinalIgnoreCase) || heading.Contains("tenor", StringComparison.OrdinalIgnoreCase)
            ? []
            : [.. HornCrooks.Meant(heading[start..]).Select(crook => new PageChoice(crook.Id, crook.Name))];
    }

    private static string AboutOf(ScoreLine line) => line is { NoteCount: { } count, Lowest: { } lowest, Highest: { } highest }
        ? $"{count} {(count == 1 ? "note" : "notes")}, {PitchSpelling.FromMidi(lowest)} to {PitchSpelling.FromMidi(highest)}"
        : "cannot be read";
}
