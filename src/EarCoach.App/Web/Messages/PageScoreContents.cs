namespace EarCoach.App.Web.Messages;

/// <summary>What a file holds.</summary>
/// <param name="Format">"MIDI", "MusicXML" or "ABC".</param>
/// <param name="Lines">What can be chosen.</param>
/// <param name="HasRepeats">Whether repeat signs can stand in such files.</param>
/// <param name="Pitches">What the pitches of such files usually are: "sounding", "written", or "file" where the file says it.</param>
internal sealed record PageScoreContents(string Format, IReadOnlyList<PageScoreLine> Lines, bool HasRepeats, string Pitches);
