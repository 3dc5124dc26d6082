namespace EarCoach.App.Web.Messages;

/// <summary>A note of a passage, to choose.</summary>
/// <param name="Bar">Bar number of the part.</param>
/// <param name="Beat">Beat as a number, to compare.</param>
/// <param name="Place">In words: "bar 3, beat 2".</param>
/// <param name="Written">As it is printed.</param>
/// <param name="Sounding">As it sounds.</param>
/// <param name="TimingJudged">Whether its onset is judged.</param>
/// <param name="Required">Whether it must be played.</param>
/// <param name="IsGrace">Whether it is a grace note.</param>
internal sealed record PageLibraryNote(int Bar, double Beat, string Place, string Written, string Sounding, bool TimingJudged, bool Required, bool IsGrace);
