namespace EarCoach.Core.Progress;

/// <summary>When to try a passage cold again.</summary>
/// <remarks>A night between helps accuracy (Simmons 2012, J. Res. Music Educ. 59, 357-368: gains of accuracy only after 24 hours). Gaps that
/// grow while it holds, and fall back to a day when it fails: common practice of spaced repetition. The gaps themselves, and the share of
/// the time left: our choice.</remarks>
public static class ReturnDates
{
    private static readonly int[] _gapDays = [1, 2, 4, 7, 12, 21];

    /// <summary>The day of the next cold take.</summary>
    /// <param name="coldTakes">Cold takes so far, oldest first.</param>
    /// <param name="today">Today.</param>
    /// <param name="performance">The day of the performance, or null. Before it, gaps are at most a fifth of the time left.</param>
    /// <returns>Never before today; today when no cold take was played yet, or one is due.</returns>
    public static DateOnly Next(IReadOnlyList<ColdTake> coldTakes, DateOnly today, DateOnly? performance = null)
    {
        ArgumentNullException.ThrowIfNull(coldTakes);
        if (coldTakes.Count == 0)
        {
            return today;
        }

        int cleanRunning = 0;
        for (int i = coldTakes.Count - 1; i >= 0 && coldTakes[i].Clean; i--)
        {
            cleanRunning++;
        }

        DateOnly last = coldTakes[^1].Day;
        int gap = cleanRunning == 0 ? 1 : _gapDays[Math.Min(cleanRunning, _gapDays.Length) - 1];
        if (performance is { } day && day > last)
        {
            gap = Math.Clamp(gap, 1, Math.Max(1, (day.DayNumber - last.DayNumber) / 5));
        }

        DateOnly next = last.AddDays(gap);
        return next < today ? today : next;
    }
}
