namespace EarCoach.Core.Judging;

/// <summary>What an attempt counts as.</summary>
public enum Verdict
{
    /// <summary>Every note there, in order, none faulty, nothing added.</summary>
    Clean,

    /// <summary>Anything else that can be judged.</summary>
    Missed,

    /// <summary>It cannot be judged honestly; it neither advances nor resets a count.</summary>
    NotCounted,
}
