using EarCoach.Core.Drills;

namespace EarCoach.Engine.Wording;

/// <summary>Drills and their counts in words: the same on the page and in the terminal.</summary>
public static class DrillWording
{
    /// <summary>The name of a drill as a player reads it.</summary>
    public static string NameOf(DrillKind kind) => kind switch
    {
        DrillKind.Chain => "Chain",
        DrillKind.RhythmVariants => "Rhythm variants",
        DrillKind.TempoLadder => "Tempo ladder",
        DrillKind.Proof => "Proof",
        DrillKind.ColdTake => "Cold take",
        DrillKind.Rotation => "Rotation",
        DrillKind.TroubleSpot => "Trouble spot",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such kind of drill."),
    };

    /// <summary>For example "2 of 3 clean running; set 1 of 3, 0 seals", or "Done: 3 of 3 seals".</summary>
    public static string CountOf(DrillView drill)
    {
        ArgumentNullException.ThrowIfNull(drill);
        if (drill.Phase == DrillPhase.Done)
        {
            return drill.Kind switch
            {
                DrillKind.Proof => Text($"Done: {drill.Seals} of {drill.Stages} seals"),
                DrillKind.ColdTake => "Done: the take is recorded",
                _ => Text($"Done: {drill.Stages - drill.Skipped} of {drill.Stages} passed"),
            };
        }

        string stage = Text($"{StageName(drill.Kind)} {drill.Stage + 1} of {drill.Stages}");
        return drill.Kind switch
        {
            DrillKind.ColdTake => "one take",
            DrillKind.Rotation => Text($"{drill.Count} of {drill.Needed} attempts; {stage}"),
            DrillKind.Proof => Text($"{drill.Count} of {drill.Needed} clean running; {stage}, {drill.Seals} seal{(drill.Seals == 1 ? string.Empty : "s")}"),
            _ => Text($"{drill.Count} of {drill.Needed} clean running; {stage}"),
        };
    }

    private static string StageName(DrillKind kind) => kind switch
    {
        DrillKind.Chain => "length",
        DrillKind.RhythmVariants => "variant",
        DrillKind.TempoLadder => "tempo",
        DrillKind.Proof => "set",
        DrillKind.Rotation => "turn",
        _ => "step",
    };

    private static string Text(FormattableString text) => FormattableString.Invariant(text);
}
