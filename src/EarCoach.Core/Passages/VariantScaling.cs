namespace EarCoach.Core.Passages;

/// <summary>How fast the short notes of a rhythm variant are.</summary>
public enum VariantScaling
{
    /// <summary>A group takes as long as it did evenly: the short notes are faster than in the passage, the long ones slower.</summary>
    EqualTotal,

    /// <summary>The short notes are as fast as in the passage, the long ones longer: the whole takes longer.</summary>
    ShortsAtTarget,
}
