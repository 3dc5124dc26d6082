using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>What the frames tell of notes beside louder ones, and of what only rings on.</summary>
internal static class FaintNotes
{
    /// <summary>So near to a pitch, it is that one.</summary>
    public const double PlainSemitones = 0.25;

    private const double MixedSeconds = 0.1;
    private const float MixedDb = 6;
    private const double OwnSemitones = 0.6;           // a slow attack is flat, and may be so much fainter than the note
    private const float OwnDb = 12;
    private const float PlainClarity = 0.8f;
    private const float AloneClarity = 0.93f;          // a tone alone in a hall has more
    private const double PulledSemitones = 0.1;        // towards the note that begins: two a semitone apart are heard as one between them
    private const float RingClarity = 0.97f;
    private const float StrokeRiseDb = 1.8f;
    private const float HeardAboveDb = 10;
    private const float RungDb = 7; // so much fainter than a note its ring is

    /// <summary>
    /// The earliest moment at which a note may have begun: before its pitch is plain it may be mixed with the echo of the note before, which
    /// alone would be fainter, and have that one's pitch plainly.
    /// </summary>
    /// <param name="sound">The region.</param>
    /// <param name="onset">Where it plainly begins, in seconds.</param>
    /// <param name="due">When it was due, in seconds: it is not looked for before that.</param>
    /// <param name="pitchBefore">The pitch of the note before, as a MIDI note number with its fraction.</param>
    /// <param name="pitch">The note's pitch.</param>
    public static double EarliestOnset(RegionSound sound, double onset, double due, double pitchBefore, double pitch)
    {
        int at = (int)sound.FrameOfSeconds(onset);
        int end = Math.Min(sound.Frames.Length, at + (int)(MixedSeconds * sound.FramesPerSecond));
        if (at <= 0 || at >= end)
        {
            return onset;
        }

        float level = sound.MedianDbfs(at, end);
        int first = at;
        int least = Math.Clamp((int)Math.Ceiling(sound.FrameOfSeconds(due)), 0, at);
        while (first > least && IsMixed(in sound.Frames[first - 1], level, pitchBefore, pitch))
        {
            first--;
        }

        return first == at ? onset : sound.SecondsOfFrame(first);
    }

    private static bool IsMixed(in HeardFrame frame, float noteDbfs, double pitchBefore, double pitch)
    {
        double fromBefore = Math.Abs(frame.Midi - pitchBefore);
        bool isOwn = Math.Abs(frame.Midi - pitch) < OwnSemitones && fromBefore > OwnSemitones && frame.LevelDbfs > noteDbfs - OwnDb;
        bool isBoth = frame.Clarity < PlainClarity || fromBefore > PlainSemitones
            || (frame.Clarity < AloneClarity && (frame.Midi - pitchBefore) * Math.Sign(pitch - pitchBefore) > PulledSemitones);
        return frame.AboveFloorDb > MixedDb && (isOwn || (isBoth && frame.LevelDbfs > noteDbfs - MixedDb));
    }

    /// <summary>Whether most of a stretch has the pitch of the note before, as clear as one tone alone has it: that one rings on, and nothing else sounds.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="from">Where the stretch begins, in seconds.</param>
    /// <param name="until">Where it ends.</param>
    /// <param name="pitch">The pitch of the note before.</param>
    public static bool IsRingAlone(RegionSound sound, double from, double until, double pitch)
    {
        (int clear, int all) = FramesOf(sound, from, until, pitch, RingClarity);
        return 2 * clear > all;
    }

    /// <summary>How many frames of a stretch have a pitch more clearly than asked for, and how many it has in all.</summary>
    public static (int Clear, int All) FramesOf(RegionSound sound, double from, double until, double pitch, float clarity)
    {
        int first = sound.FrameAt(from);
        int end = sound.FrameAt(until);
        int clear = 0;
        for (int t = first; t < end; t++)
        {
            ref readonly HeardFrame frame = ref sound.Frames[t];
            clear += frame.Clarity > clarity && Math.Abs(frame.Midi - pitch) < PlainSemitones ? 1 : 0;
        }

        return (clear, end - first);
    }

    /// <summary>Where a short note was struck, though it was over before its pitch was clear: a slow bow, a cold reed. What rings on only dies away.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="from">The earliest moment at which it may begin, in seconds.</param>
    /// <param name="to">The latest.</param>
    /// <param name="until">Where the next note begins.</param>
    /// <param name="leastFallDb">How far its level must fall again before that: between notes of one pitch what is struck only once is the next one.</param>
    /// <returns>In seconds; null where the level does not rise.</returns>
    public static double? StruckAtLeast(RegionSound sound, double from, double to, double until, float leastFallDb = 0)
    {
        int first = sound.FrameAt(from);
        int last = sound.FrameAt(to);
        int end = sound.FrameAt(until);
        if (first >= last || last >= end)
        {
            return null;
        }

        int lowest = Enumerable.Range(first, last - first).MinBy(t => sound.Frames[t].LevelDbfs);
        bool isQuiet = sound.MedianDbfs(lowest, end) - sound.Frames[lowest].FloorDbfs < HeardAboveDb; // what rises at the end only is the next note
        int pitched = Enumerable.Range(lowest, end - lowest).Count(t => sound.Frames[t].Clarity > PlainClarity);
        bool isRing = 2 * pitched > end - lowest; // an echo may swell, and has its pitch
        int loudest = Enumerable.Range(lowest, end - lowest).MaxBy(t => sound.Frames[t].LevelDbfs);
        float rise = sound.Frames[loudest].LevelDbfs - sound.Frames[lowest].LevelDbfs;
        float fall = sound.Frames[loudest].LevelDbfs - Enumerable.Range(loudest, end - loudest).Min(t => sound.Frames[t].LevelDbfs);
        return rise > Math.Max(StrokeRiseDb, leastFallDb) && fall >= leastFallDb && !isQuiet && !isRing ? sound.SecondsOfFrame(lowest) : null;
    }

    /// <summary>From where on a note that is much softer than its neighbours has its pitch.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="pitch">Its pitch.</param>
    /// <param name="from">From when on it may sound, in seconds.</param>
    /// <param name="until">When the next note's pitch is heard.</param>
    /// <returns>In seconds; null where that pitch is not plain for so long as a note is heard.</returns>
    public static double? PlainlyHeard(RegionSound sound, double pitch, double from, double until)
    {
        int first = Math.Max(0, (int)Math.Ceiling(sound.FrameOfSeconds(from)));
        return PlainPitch.Begins(sound, pitch, first, sound.FrameAt(until)) is { } begins ? sound.SecondsOfFrame(begins) : null;
    }

    /// <summary>Whether a sound is much fainter than the one before and grows fainter still.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="begun">Where the one before begins, in seconds.</param>
    /// <param name="ended">Where it ends.</param>
    /// <param name="first">Where the sound begins.</param>
    /// <param name="end">Where it ends.</param>
    public static bool DiesAway(RegionSound sound, double begun, double ended, double first, double end)
    {
        int from = sound.FrameAt(first);
        int until = sound.FrameAt(end);
        int middle = (from + until) / 2;
        int loud = sound.FrameAt(begun);
        int over = sound.FrameAt(ended);
        if (over <= loud || middle <= from)
        {
            return false;
        }

        float here = sound.MedianDbfs(from, middle);
        return here < sound.MedianDbfs(loud, over) - RungDb && sound.MedianDbfs(middle, until) < here;
    }
}
