namespace EarCoach.Core.Judging;

/// <summary>Tells the first note of an attempt from what sounds until it begins.</summary>
internal static class FirstNote
{
    private const double LongBeforeSeconds = 0.25;  // no player is so early with the first note, but he may speak until then
    private const double LeastHeldShare = 0.5;
    private const double LeastPlayedSeconds = 0.03; // a shorter note is missing: the definition of the fault
    private const float PitchedClarity = 0.7f;
    private const double PitchSemitones = 0.4;

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
        int first = FrameAt(sound, onset);
        int from = FrameAt(sound, due - limit);
        if (due - onset < LongBeforeSeconds || from <= first || Enumerable.Range(first, from - first).Count(HasPitch) > LeastHeldShare * (from - first))
        {
            return null;
        }

        int run = 0;
        int least = (int)(LeastPlayedSeconds * sound.FramesPerSecond);
        int end = FrameAt(sound, due + limit + LeastPlayedSeconds);
        for (int t = from; t < end; t++)
        {
            run = HasPitch(t) ? run + 1 : 0;
            if (run >= least)
            {
                int begins = t - run + 1;
                return begins > from ? sound.SecondsOfFrame(begins) : null;
            }
        }

        return null;

        bool HasPitch(int t) => sound.Frames[t].Clarity > PitchedClarity && Math.Abs(sound.Frames[t].Midi - pitch) < PitchSemitones;
    }

    private static int FrameAt(RegionSound sound, double seconds) => Math.Clamp((int)sound.FrameOfSeconds(seconds), 0, sound.Frames.Length);
}
