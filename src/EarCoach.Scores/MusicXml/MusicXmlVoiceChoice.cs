using EarCoach.Core.Passages;

namespace EarCoach.Scores.MusicXml;

/// <summary>Picks the voice asked for.</summary>
internal static class MusicXmlVoiceChoice
{
    private const int MostNamed = 20;

    public static (WrittenPart Part, string Voice) Choose(WrittenScore score, MusicXmlReadOptions options)
    {
        MusicXmlVoice[] voices = [.. score.Parts.SelectMany(part => part.Voices())];
        if (voices.Length == 0)
        {
            throw new ScoreException(
                ScoreFailure.NoNotes, "whole file", $"None of its {score.Parts.Count} parts has a note. Choose a file with the part you practise.");
        }

        MusicXmlVoice[] chosen = [.. voices.Where(voice => (options.PartId ?? voice.PartId) == voice.PartId && (options.Voice ?? voice.Voice) == voice.Voice)];
        string asked = options.PartId is null && options.Voice is null
            ? "whole file"
            : string.Join(", ", new[] { options.PartId is { } id ? $"part {id}" : null, options.Voice is { } name ? $"voice {name}" : null }.OfType<string>());
        return chosen switch
        {
            [MusicXmlVoice only] => (score.Parts.First(part => part.Id == only.PartId), only.Voice),
            [] => throw new ScoreException(ScoreFailure.PartNotFound, asked, $"The file has no notes there. It has: {List(voices)}."),
            _ => throw new ScoreException(
                ScoreFailure.PartNotChosen, asked, $"There are {chosen.Length} voices with notes; one is needed. Choose a part and a voice: {List(chosen)}."),
        };
    }

    private static string List(MusicXmlVoice[] voices)
    {
        string list = string.Join("; ", voices.Take(MostNamed).Select(Describe));
        return voices.Length > MostNamed ? $"{list}; and {voices.Length - MostNamed} more" : list;
    }

    private static string Describe(MusicXmlVoice voice)
    {
        string name = voice.PartName is null ? string.Empty : $" '{voice.PartName}'";
        return $"part {voice.PartId}{name}, voice {voice.Voice}, {voice.NoteCount} notes, {PitchSpelling.FromMidi(voice.Lowest)} to {PitchSpelling.FromMidi(voice.Highest)} sounding";
    }
}
