using EarCoach.Core.Judging;

namespace EarCoach.Engine.Wording;

/// <summary>Says what is allowed where a rhythm is judged by long and short notes, not by milliseconds.</summary>
public static class RhythmWording
{
    /// <summary>For example "long notes at least 1.5 times as long as short ones, equal ones within 20 % or 60 ms".</summary>
    public static string LimitsOf(Tolerances limits)
    {
        ArgumentNullException.ThrowIfNull(limits);
        return FormattableString.Invariant($"long notes at least {limits.LongRatio:0.##} times as long as short ones, equal ones within {limits.EvenShare * 100:0} % or {limits.OnsetMs:0} ms");
    }
}
