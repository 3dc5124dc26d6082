namespace EarCoach.Core.Drills;

/// <summary>The ways of practising. The words shown, stored and sent are those of <see cref="DrillKindNames"/>.</summary>
public enum DrillKind
{
    /// <summary>One note, then two, and so on: each length clean so many times running.</summary>
    Chain,

    /// <summary>The passage in other rhythms, then the next tempo.</summary>
    RhythmVariants,

    /// <summary>From a share of the goal tempo up in notches; misses step down.</summary>
    TempoLadder,

    /// <summary>Sets of consecutive clean play-throughs; finished sets stay.</summary>
    Proof,

    /// <summary>The first play-through of a day, once.</summary>
    ColdTake,

    /// <summary>Several passages in turn.</summary>
    Rotation,

    /// <summary>The notes most often faulty, each with its neighbours.</summary>
    TroubleSpot,
}
