namespace EarCoach.Scores;

/// <summary>What becomes of repeat signs.</summary>
public enum RepeatReading
{
    /// <summary>The notes come in the order they are played; bars are counted on through the repeats. Jumps (da capo, dal segno) are refused.</summary>
    WrittenOut,

    /// <summary>Every bar comes once, in the order of the page, so that bar numbers stay those of the part.</summary>
    AsPrinted,
}
