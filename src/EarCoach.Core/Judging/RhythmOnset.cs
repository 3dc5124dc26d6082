using EarCoach.Core.Passages;

namespace EarCoach.Core.Judging;

/// <summary>Where a note begins, as <see cref="RhythmClasses"/> needs it.</summary>
/// <param name="Index">Which note of the task.</param>
/// <param name="Written">Its onset in quarter notes.</param>
/// <param name="DueSeconds">Its onset at the tempo of the attempt; only differences count.</param>
/// <param name="HeardSeconds">Where it was heard; null where it was not, or with a pitch so wrong that it may be no note of the passage.</param>
/// <param name="MsOff">Deviation from the tempo line in milliseconds, positive late; null where its onset is not judged.</param>
internal readonly record struct RhythmOnset(int Index, Fraction Written, double DueSeconds, double? HeardSeconds, double? MsOff)
{
    /// <summary>Whether time begins anew with it, after a fermata: its own onset is free, what follows is measured from it.</summary>
    public bool BeginsAnew { get; init; }

    /// <summary>Whether something that the passage lacks sounds before the next note.</summary>
    public bool IsFollowedByExtra { get; init; }
}
