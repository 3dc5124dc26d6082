using System.Globalization;
using EarCoach.Core.Drills;

namespace EarCoach.Engine.Wording;

/// <summary>Proposals of rests and of easier tasks in words. None of them claims that anything is safe.</summary>
public static class RestWording
{
    /// <summary>For example "Rest about 90 seconds: as long as you have played."</summary>
    public static string Of(DrillEffect.RestProposed rest)
    {
        ArgumentNullException.ThrowIfNull(rest);
        return rest.Reason switch
        {
            RestReason.PlayedAhead => $"Rest about {Length(rest.Seconds)}: as long as you have played.",
            RestReason.BetweenSets => $"Set finished. Rest {Length(rest.Seconds)}, and hear the passage once in your head.",
            RestReason.EarlyBreak => $"A break early in the work helps it to stay. Put the instrument down for {Length(rest.Seconds)}, and do something that is no playing.",
            RestReason.LongStretch => $"You have worked a good while. Put the instrument down for {Length(rest.Seconds)}.",
            RestReason.Tiredness => $"Misses after many clean attempts can be tiredness. Put the instrument down for {Length(rest.Seconds)}, or go on tomorrow.",
            RestReason.EnoughForToday => "That is your playing time for today. What you have earned is kept; go on tomorrow.",
            _ => throw new ArgumentOutOfRangeException(nameof(rest), rest.Reason, "No such reason."),
        };
    }

    /// <summary>For example "Many attempts at this stage: take it slower, or a shorter part."</summary>
    public static string Of(DrillEffect.EasierProposed easier)
    {
        ArgumentNullException.ThrowIfNull(easier);
        return easier.Reason switch
        {
            EasierReason.ManyAttempts => "Many attempts at this stage. Take it slower, take a shorter part, or leave it for today.",
            EasierReason.MissesRunning => "Several misses running. Take it slower or a shorter part, until it can't fail.",
            EasierReason.LowestTempo => "This is the slowest tempo of the ladder. Start lower, or take a shorter part.",
            _ => throw new ArgumentOutOfRangeException(nameof(easier), easier.Reason, "No such reason."),
        };
    }

    private static string Length(double? seconds) => seconds switch
    {
        null => "a while",
        < 100 => string.Create(CultureInfo.InvariantCulture, $"{Math.Max(5, Math.Round(seconds.Value / 5) * 5):0} seconds"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{Math.Round(seconds.Value / 60, 1):0.#} minutes"),
    };
}
