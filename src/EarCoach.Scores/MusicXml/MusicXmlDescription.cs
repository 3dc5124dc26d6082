using System.Collections.Immutable;

namespace EarCoach.Scores.MusicXml;

/// <summary>What a MusicXML file holds, to choose a line from.</summary>
/// <param name="Title">Of the work or movement, or null.</param>
/// <param name="Voices">Every voice with notes, in the order of the file.</param>
public sealed record MusicXmlDescription(string? Title, ImmutableArray<MusicXmlVoice> Voices);
