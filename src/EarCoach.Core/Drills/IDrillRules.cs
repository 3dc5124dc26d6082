namespace EarCoach.Core.Drills;

/// <summary>The rules of one drill with its numbers: what a counted attempt, a skip and a repeat do to its progress. Pure.</summary>
internal interface IDrillRules
{
    /// <summary>Nothing played yet.</summary>
    DrillProgress Begin();

    /// <summary>What is to be played; null when done.</summary>
    DrillTask? TaskOf(DrillProgress progress);

    /// <summary>A counted attempt. Adds what follows to <paramref name="effects"/>.</summary>
    DrillProgress Judged(DrillProgress progress, bool clean, List<DrillEffect> effects);

    /// <summary>The same object where a skip does not apply.</summary>
    DrillProgress Skipped(DrillProgress progress);

    /// <summary>The same object where a repeat does not apply.</summary>
    DrillProgress Repeated(DrillProgress progress);

    /// <summary>Carries progress made under the rules of an earlier plan over to these: never further on than it was.</summary>
    DrillProgress CarriedOver(DrillProgress progress, IDrillRules earlier);

    /// <summary>Stage under way, number of stages, count, needed, seals, skipped.</summary>
    (int Stage, int Stages, int Count, int Needed, int Seals, int Skipped) Numbers(DrillProgress progress);
}
