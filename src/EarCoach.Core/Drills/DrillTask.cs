using EarCoach.Core.Judging;
using EarCoach.Core.Passages;

namespace EarCoach.Core.Drills;

/// <summary>What is to be played next: a part of a passage, perhaps in another rhythm, at a tempo, judged so strictly.</summary>
/// <param name="PassageIndex">Which of the drill's passages, from 0.</param>
/// <param name="FirstNote">The first note of the part, counted from 0 in the passage.</param>
/// <param name="NoteCount">How many notes; at least 1.</param>
/// <param name="VariantCode">Code of the rhythm variant; null: as written.</param>
/// <param name="Scaling">How fast the variant is; of no meaning as written.</param>
/// <param name="QuartersPerMinute">The asked tempo; null: the passage's own.</param>
/// <param name="Tolerances">How strict.</param>
/// <param name="A4Hz">The player's A4 in hertz.</param>
public sealed record DrillTask(
    int PassageIndex,
    int FirstNote,
    int NoteCount,
    string? VariantCode,
    VariantScaling Scaling,
    double? QuartersPerMinute,
    Tolerances Tolerances,
    double A4Hz)
{
    /// <summary>Which notes the variant takes; of no meaning as written.</summary>
    public VariantScope Scope { get; init; } = VariantScope.EvenRuns;

    /// <summary>Whether the last note of the part is held.</summary>
    public bool HoldLast { get; init; }
}
