namespace EarCoach.Core.Judging;

/// <summary>Tells the first note of an attempt from what sounds until it begins.</summary>
internal static class FirstNote
{
    private const double LongBeforeSeconds = 0.25; // no player is so early with the first note, but he may speak until then
    private const double LeastHeldShare = 0.5;

    /// <summary>
    /// Where the first note begins, when something else was heard until then and taken for its beginning: a voice has not the note's pitch for long.
    /// </summary>
    /// <param name="sound">The region.</param>
    /// <param name="onset">Where it was said to begin, in seconds.</param>
    /// <param name="due">When it was due, in seconds.</param>
    /// <param name="limit">The largest deviation that passes, in seconds.</param>
    /// <param name="pitch">Its pitch, as a MIDI note number with its fraction.</param>
    /// <returns>In seconds; null where it was begun so early and held, or where nothing begins when it was due.</returns>
    public static double? AfterOther(RegionSound sound, double onset, double due, double limit, double pitch)
    {
        int first = sound.FrameAt(onset);
        int from = sound.FrameAt(due - limit);
        if (due - onset < LongBeforeSeconds || from <= first || Enumerable.Range(first, from - first).Count(HasPitch) > LeastHeldShare * (from - first))
        {
            return null;
        }

        return PlainPitch.Begins(sound, pitch, from, sound.FrameAt(due + limit + PlainPitch.LeastSeconds)) is { } begins && begins > from
            ? sound.SecondsOfFrame(begins)
            : null;

        bool HasPitch(int t) => PlainPitch.IsIn(in sound.Frames[t], pitch);
    }
}
