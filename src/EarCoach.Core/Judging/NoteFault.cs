namespace EarCoach.Core.Judging;

/// <summary>What can be wrong with a note. The words shown, stored and sent are those of <see cref="FaultNames"/>.</summary>
public enum NoteFault
{
    /// <summary>The steady pitch lies nearer to another semitone than to the target.</summary>
    WrongPitch,

    /// <summary>Begins on, or breaks to, another pitch before it settles.</summary>
    Cracked,

    /// <summary>Not played, or too short for a pitch to be heard.</summary>
    Missing,

    /// <summary>Struck again within its length, or a note between notes that the passage lacks.</summary>
    Extra,

    /// <summary>Lower than the target by more than the tolerance.</summary>
    Flat,

    /// <summary>Higher than the target by more than the tolerance.</summary>
    Sharp,

    /// <summary>Begins before the tempo line by more than the tolerance.</summary>
    Early,

    /// <summary>Begins after the tempo line by more than the tolerance.</summary>
    Late,
}
