namespace EarCoach.Core.Drills;

/// <summary>How fast a rhythm variant is.</summary>
public enum VariantScaling
{
    /// <summary>As long in all as the even run: short notes are quicker than in the goal.</summary>
    EqualTotal,

    /// <summary>Short notes at the goal's speed; long ones are stretched.</summary>
    ShortsAtTarget,
}
