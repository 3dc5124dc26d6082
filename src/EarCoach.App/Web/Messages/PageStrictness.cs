namespace EarCoach.App.Web.Messages;

/// <summary>How strictly a passage is judged where it differs from the player's level; null: as the level says.</summary>
internal sealed record PageStrictness(double? Cents, bool SemitoneOnly, double? OnsetMs, double? TempoPercent);
