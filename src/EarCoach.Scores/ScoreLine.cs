namespace EarCoach.Scores;

/// <summary>One line of a score to choose: a channel of a track, a voice of a part, a tune.</summary>
/// <param name="Name">As a player looks for it.</param>
/// <param name="NoteCount">How many notes; null where it cannot be read.</param>
/// <param name="Lowest">Lowest sounding MIDI number; null where it cannot be read.</param>
/// <param name="Highest">Highest sounding MIDI number; null where it cannot be read.</param>
/// <param name="PartName">What the file calls it: a track's name, a part's, a tune's title; null where it calls it nothing.</param>
/// <param name="Problem">Why it cannot be read, with its place; null where that is not known beforehand.</param>
public sealed record ScoreLine(string Name, int? NoteCount, int? Lowest, int? Highest, string? PartName = null, string? Problem = null);
