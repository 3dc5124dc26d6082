using EarCoach.Core.Drills;
using EarCoach.Engine.Wording;

namespace EarCoach.Engine.Sessions;

/// <summary>What is proposed to the player at present: a rest, something easier.</summary>
internal sealed class ProposalBoard
{
    private double _restEndsAtSeconds;

    public RestProposal? Rest { get; private set; }

    public string? Hint { get; private set; }

    /// <summary>Takes over what follows from an input.</summary>
    /// <param name="effects">What follows.</param>
    /// <param name="taskChanged">Whether another task is to be played: a hint about the one before is gone.</param>
    /// <param name="now">The wall clock, for display.</param>
    /// <param name="clockSeconds">The session's clock, by which the rest ends.</param>
    public void Follow(IReadOnlyList<DrillEffect> effects, bool taskChanged, DateTimeOffset now, double clockSeconds)
    {
        Hint = taskChanged ? null : Hint;
        foreach (DrillEffect effect in effects)
        {
            if (effect is DrillEffect.RestProposed rest)
            {
                Rest = new RestProposal(rest.Reason, now, rest.Seconds, RestWording.Of(rest));
                _restEndsAtSeconds = clockSeconds + (rest.Seconds ?? double.PositiveInfinity);
            }
            else if (effect is DrillEffect.EasierProposed easier)
            {
                Hint = RestWording.Of(easier);
            }
        }
    }

    /// <summary>Time has gone on: a rest ends by itself, or because the player plays.</summary>
    public void TimeIs(double clockSeconds, bool isPlaying)
    {
        if (isPlaying || clockSeconds >= _restEndsAtSeconds)
        {
            Rest = null;
        }
    }

    /// <summary>Ends the rest.</summary>
    /// <returns>Whether there was one.</returns>
    public bool EndRest()
    {
        bool was = Rest is not null;
        Rest = null;
        return was;
    }
}
