namespace EarCoach.App.Commands;

/// <summary>How far the drill has come.</summary>
internal sealed record DrillCountJson(bool Done, int Stage, int Stages, int Count, int Needed, int Seals);
