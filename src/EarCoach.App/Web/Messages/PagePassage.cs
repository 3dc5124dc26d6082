namespace EarCoach.App.Web.Messages;

/// <summary>The passage under way.</summary>
/// <param name="Title">What the player calls it.</param>
/// <param name="Instrument">The instrument's name; "" when not known.</param>
/// <param name="Transposition">Written minus sounding pitch, in semitones.</param>
internal sealed record PagePassage(string Title, string Instrument, int Transposition);
