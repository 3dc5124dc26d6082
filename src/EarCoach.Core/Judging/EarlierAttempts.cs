namespace EarCoach.Core.Judging;

/// <summary>What earlier attempts told of the player: where the instrument stands, and how each note sounds.</summary>
/// <param name="Tuning">Of the whole instrument.</param>
/// <param name="Tone">Of each note.</param>
internal sealed record EarlierAttempts(TuningFollower Tuning, UsualTone Tone)
{
    /// <summary>The same, which goes its own way from here.</summary>
    public EarlierAttempts Copy() => new(Tuning.Copy(), Tone.Copy());
}
