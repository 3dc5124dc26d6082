using EarCoach.Scores.Written;

namespace EarCoach.Scores.MusicXml;

/// <summary>A part as it stands on the page.</summary>
/// <param name="Id">For example "P1".</param>
/// <param name="Name">Of the part list, or null.</param>
/// <param name="Program">General MIDI program of the part list, 1 to 128, or null.</param>
/// <param name="Measures">In order of the page, each with the notes of its voices.</param>
/// <param name="Reader">What the reader of its measures knows at the end: key and remarks.</param>
internal sealed record WrittenPart(
    string Id, string? Name, int? Program, IReadOnlyList<(WrittenMeasure Measure, IReadOnlyDictionary<string, List<WrittenNote>> Voices)> Measures, MeasureReader Reader)
{
    /// <summary>Every voice with notes, by first appearance.</summary>
    public IEnumerable<MusicXmlVoice> Voices() => Measures
        .SelectMany(measure => measure.Voices)
        .GroupBy(voice => voice.Key, voice => voice.Value)
        .Select(group => new MusicXmlVoice(
            Id, Name, group.Key, group.Sum(notes => notes.Count), group.Min(notes => notes.Min(note => note.MidiPitch)), group.Max(notes => notes.Max(note => note.MidiPitch))));
}
