namespace EarCoach.Core.Judging;

/// <summary>How onsets are judged.</summary>
public enum TimingMode
{
    /// <summary>Pitch only.</summary>
    Off,

    /// <summary>Against a tempo line fitted robustly to the attempt itself.</summary>
    Fitted,

    /// <summary>Against the asked tempo exactly; the first note sets the start.</summary>
    Strict,

    /// <summary>By class: long notes clearly longer than short ones, notes of one written length alike, at a tempo fitted to the attempt itself.</summary>
    Rhythm,
}
