using System.Collections.Immutable;
using System.Globalization;
using EarCoach.Core.Passages;

namespace EarCoach.Scores.Midi;

/// <summary>Lists the parts of a file and picks the one asked for.</summary>
internal static class MidiPartChoice
{
    private const int MostNamed = 20;

    public static ImmutableArray<MidiPart> PartsOf(SmfFile file) =>
    [
        .. file.Tracks.SelectMany((track, index) => track.Notes
            .GroupBy(note => note.Channel)
            .OrderBy(group => group.Key)
            .Select(group => new MidiPart(
                index + 1,
                group.Key,
                track.Name,
                track.Programs.TryGetValue(group.Key, out int program) ? program : null,
                group.Count(),
                group.Min(note => note.Pitch),
                group.Max(note => note.Pitch)))),
    ];

    public static MidiPart Choose(SmfFile file, MidiReadOptions options)
    {
        ImmutableArray<MidiPart> parts = PartsOf(file);
        if (parts.IsEmpty)
        {
            throw new ScoreException(
                ScoreFailure.NoNotes, "whole file", $"None of its {file.Tracks.Length} tracks has a note. Choose a file with the part you practise.");
        }

        MidiPart[] chosen = [.. parts.Where(part => (options.Track ?? part.Track) == part.Track && (options.Channel ?? part.Channel) == part.Channel)];
        return chosen switch
        {
            [MidiPart only] => only,
            [] => throw new ScoreException(ScoreFailure.PartNotFound, Asked(options), $"The file has no notes there. It has: {List(parts)}."),
            _ => throw new ScoreException(
                ScoreFailure.PartNotChosen, Asked(options), $"There are {chosen.Length} parts with notes; one is needed. Choose a track and channel: {List(chosen)}."),
        };
    }

    private static string Asked(MidiReadOptions options) => (options.Track, options.Channel) switch
    {
        (int track, int channel) => string.Create(CultureInfo.InvariantCulture, $"track {track}, channel {channel}"),
        (int track, null) => string.Create(CultureInfo.InvariantCulture, $"track {track}"),
        (null, int channel) => string.Create(CultureInfo.InvariantCulture, $"channel {channel}"),
        _ => "whole file",
    };

    private static string List(IReadOnlyList<MidiPart> parts)
    {
        string list = string.Join("; ", parts.Take(MostNamed).Select(Describe));
        return parts.Count > MostNamed ? $"{list}; and {parts.Count - MostNamed} more" : list;
    }

    private static string Describe(MidiPart part)
    {
        string name = part.Name is null ? string.Empty : $" '{part.Name}'";
        string range = $"{PitchSpelling.FromMidi(part.Lowest)} to {PitchSpelling.FromMidi(part.Highest)}";
        return string.Create(CultureInfo.InvariantCulture, $"track {part.Track}{name}, channel {part.Channel}, {part.NoteCount} notes, {range}");
    }
}
