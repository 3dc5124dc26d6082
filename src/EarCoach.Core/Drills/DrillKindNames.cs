namespace EarCoach.Core.Drills;

/// <summary>The one set of words for the kinds of drill, everywhere: command line, page, store.</summary>
public static class DrillKindNames
{
    /// <summary>For example "tempo-ladder".</summary>
    public static string Of(DrillKind kind) => kind switch
    {
        DrillKind.Chain => "chain",
        DrillKind.RhythmVariants => "rhythm-variants",
        DrillKind.TempoLadder => "tempo-ladder",
        DrillKind.Proof => "proof",
        DrillKind.ColdTake => "cold-take",
        DrillKind.Rotation => "rotation",
        DrillKind.TroubleSpot => "trouble-spot",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such kind of drill."),
    };

    /// <summary>Reads a word back.</summary>
    /// <returns>False where the word names no kind of drill.</returns>
    public static bool TryParse(string word, out DrillKind kind)
    {
        foreach (DrillKind candidate in Enum.GetValues<DrillKind>())
        {
            if (string.Equals(Of(candidate), word, StringComparison.OrdinalIgnoreCase))
            {
                kind = candidate;
                return true;
            }
        }

        kind = default;
        return false;
    }
}
