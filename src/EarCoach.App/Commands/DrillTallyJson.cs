namespace EarCoach.App.Commands;

/// <summary>Attempts of each verdict in the whole session.</summary>
internal sealed record DrillTallyJson(int Clean, int Missed, int NotCounted, int Disputed, double PlayedSeconds);
