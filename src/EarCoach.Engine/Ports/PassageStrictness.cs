using EarCoach.Core.Judging;

namespace EarCoach.Engine.Ports;

/// <summary>How strictly one passage is judged, where it is not as the player's level says. What is null stays as the level says.</summary>
/// <param name="Cents">Largest deviation of a pitch, in cents.</param>
/// <param name="SemitoneOnly">Whether intonation is not judged at all; <paramref name="Cents"/> then means nothing.</param>
/// <param name="OnsetMs">Largest deviation of an onset, in milliseconds.</param>
/// <param name="TempoShare">Largest deviation of the tempo, as a share (0.05 = 5 %).</param>
public sealed record PassageStrictness(double? Cents = null, bool SemitoneOnly = false, double? OnsetMs = null, double? TempoShare = null)
{
    /// <summary>The level's tolerances with this passage's own in their place.</summary>
    public Tolerances Over(Tolerances usual)
    {
        ArgumentNullException.ThrowIfNull(usual);
        return usual with
        {
            Cents = SemitoneOnly ? null : Cents ?? usual.Cents,
            OnsetMs = OnsetMs ?? usual.OnsetMs,
            TempoShare = TempoShare ?? usual.TempoShare,
        };
    }

    /// <summary>Every broken rule; empty where it can be used.</summary>
    public IEnumerable<string> Problems()
    {
        if (Cents is { } cents && !(cents is >= 5 and <= 100))
        {
            yield return $"The pitch limit is {cents} cents; give 5 to 100, or leave it empty.";
        }

        if (OnsetMs is { } ms && !(ms is >= 10 and <= 500))
        {
            yield return $"The limit for onsets is {ms} ms; give 10 to 500, or leave it empty.";
        }

        if (TempoShare is { } share && !(share is >= 0.01 and <= 0.5))
        {
            yield return $"The limit for the tempo is {100 * share} %; give 1 to 50, or leave it empty.";
        }
    }
}
