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

    /// <summary>How many times as long as a short note a long one beside it must be, where timing is judged by rhythm.</summary>
    /// <remarks>Our choice. Where less than twice is written, halfway from equal to written is enough.</remarks>
    public double LongRatio { get; init; } = 1.5;

    /// <summary>Largest deviation of a note's length from the median of those of its written length, as a share, where timing is judged by rhythm.</summary>
    /// <remarks>Our choice: twice the spread of a good amateur's even notes, about 10 % (from memory). A deviation within <see cref="OnsetMs"/> passes too.</remarks>
    public double EvenShare { get; init; } = 0.2;

    /// <summary>Largest deviation of the fitted tempo from the asked tempo, as a share (0.15 = 15 %).</summary>
    public double TempoShare { get; init; } = 0.15;

    /// <summary>How far the tuning of the whole instrument may drift from the player's A and be followed, in cents; 0: never.</summary>
    /// <remarks>An air column drifts by 2.95 cents a degree Celsius, see DEVELOPERS.md.</remarks>
    public double TuningFollowCents { get; init; } = 30;

    /// <summary>How onsets are judged.</summary>
    public TimingMode Timing { get; init; } = TimingMode.Fitted;
}
