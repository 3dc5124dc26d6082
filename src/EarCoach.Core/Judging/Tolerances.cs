namespace EarCoach.Core.Judging;

/// <summary>How strict the judge is. A value on a limit passes.</summary>
public sealed record Tolerances
{
    /// <summary>Largest deviation of a note's steady pitch, in cents; null: intonation is not judged, only the semitone.</summary>
    public double? Cents { get; init; } = 25;

    /// <summary>Largest deviation of an onset from the tempo line, in milliseconds.</summary>
    public double OnsetMs { get; init; } = 60;

    /// <summary>Longest other pitch at the start of, or inside, a note that is still forgiven, in milliseconds.</summary>
    public double CrackMs { get; init; } = 40;

    /// <summary>Largest deviation of the fitted tempo from the asked tempo, as a share (0.15 = 15 %).</summary>
    public double TempoShare { get; init; } = 0.15;

    /// <summary>How far the tuning of the whole instrument may drift from the player's A and be followed, in cents; 0: never.</summary>
    /// <remarks>An air column drifts by 2.95 cents a degree Celsius, see DEVELOPERS.md.</remarks>
    public double TuningFollowCents { get; init; } = 30;

    /// <summary>How onsets are judged.</summary>
    public TimingMode Timing { get; init; } = TimingMode.Fitted;
}
