namespace EarCoach.Core.Drills;

/// <summary>A drill as a page or a terminal shows it.</summary>
/// <param name="Kind">Which drill.</param>
/// <param name="Phase">Whether attempts count.</param>
/// <param name="Task">What is to be played; null when done.</param>
/// <param name="Stage">Stage, set or turn under way, from 0; equal to <paramref name="Stages"/> when done.</param>
/// <param name="Stages">How many stages, sets or turns there are.</param>
/// <param name="Count">Clean attempts running in it (rotation: counted attempts in the turn).</param>
/// <param name="Needed">How many are asked for.</param>
/// <param name="Seals">Finished sets of a proof; 0 for other drills.</param>
/// <param name="Skipped">Stages or turns that were skipped.</param>
/// <param name="Tally">Attempts of each verdict.</param>
public sealed record DrillView(
    DrillKind Kind,
    DrillPhase Phase,
    DrillTask? Task,
    int Stage,
    int Stages,
    int Count,
    int Needed,
    int Seals,
    int Skipped,
    AttemptTally Tally);
