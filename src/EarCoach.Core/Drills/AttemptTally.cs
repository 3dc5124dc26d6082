namespace EarCoach.Core.Drills;

/// <summary>How many attempts of each verdict the drill has had. A disputed one has left clean or missed for disputed.</summary>
/// <param name="Clean">Clean and not disputed.</param>
/// <param name="Missed">Missed and not disputed.</param>
/// <param name="NotCounted">Not counted from the start.</param>
/// <param name="Disputed">Disputed by the player: not counted since.</param>
public readonly record struct AttemptTally(int Clean, int Missed, int NotCounted, int Disputed)
{
    /// <summary>All attempts.</summary>
    public int All => Clean + Missed + NotCounted + Disputed;
}
