namespace EarCoach.App.Commands;

/// <summary>The count at the end.</summary>
internal sealed record SummaryJson(int Attempts, int Clean, int Missed, int NotCounted, int BestRun);
