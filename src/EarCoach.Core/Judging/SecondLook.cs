using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Looks again at the moment at which a note was due, before the note is called late.</summary>
/// <remarks>
/// In the echo of the note before, the new one may be plain only after a while. But a note that is truly late leaves its own moment empty:
/// the sound before goes on there, or fades. So a new attack, or a pitch that sets out towards the new one, at the moment it was due
/// means that it was in time.
/// </remarks>
internal static class SecondLook
{
    private const double NearSeconds = 0.045;
    private const double RiseDb = 5;
    private const double ShareOfWay = 0.35;
    private const double SteadySemitones = 0.25;

    /// <summary>Where a note sets in near the moment at which it is due.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="due">That moment, in seconds.</param>
    /// <param name="before">The pitch before it; null after silence.</param>
    /// <param name="pitch">Its pitch.</param>
    /// <returns>In seconds; null when nothing sets in there.</returns>
    public static double? Onset(RegionSound sound, double due, double? before, double pitch)
    {
        double fps = sound.FramesPerSecond;
        int centre = (int)Math.Round(sound.FrameOfSeconds(due));
        int near = (int)(NearSeconds * fps);
        int from = centre - (2 * near);
        int to = centre + (2 * near);
        if (from < 0 || to >= sound.Frames.Length)
        {
            return null;
        }

        return Attack(sound, centre, near) ?? (before is { } old && Math.Abs(old - pitch) > 0.5 ? Departure(sound, centre, near, old, pitch) : null);
    }

    private static double? Attack(RegionSound sound, int centre, int near)
    {
        int low = centre - near;
        for (int t = low; t <= centre + (near / 2); t++)
        {
            low = sound.Frames[t].LevelDbfs < sound.Frames[low].LevelDbfs ? t : low;
        }

        float bottom = sound.Frames[low].LevelDbfs;
        float after = Highest(sound, low, centre + near + (near / 2));
        float before = Highest(sound, centre - (2 * near), low);
        if (after - bottom < RiseDb || before - bottom < RiseDb - 2)
        {
            return null;
        }

        int rise = low;
        while (sound.Frames[rise].LevelDbfs < bottom + (0.5f * (after - bottom)))
        {
            rise++;
        }

        return sound.SecondsOfFrame(rise);
    }

    private static double? Departure(RegionSound sound, int centre, int near, double old, double pitch)
    {
        for (int t = centre - (2 * near); t < centre - near; t++)
        {
            if (!(Math.Abs(sound.Frames[t].Midi - old) < SteadySemitones))
            {
                return null;
            }
        }

        for (int t = centre - near; t <= centre + near; t++)
        {
            double way = (Nearest(in sound.Frames[t], old, pitch) - old) / (pitch - old);
            if (way > ShareOfWay)
            {
                return sound.SecondsOfFrame(t);
            }
        }

        return null;
    }

    /// <summary>The likeliest pitch of a frame between two pitches; the first of them when there is none.</summary>
    private static double Nearest(in HeardFrame frame, double old, double pitch)
    {
        double midi = frame.CandidateCount > 0 ? frame.Midi : old;
        return midi > Math.Min(old, pitch) - 0.5 && midi < Math.Max(old, pitch) + 0.5 ? midi : old;
    }

    private static float Highest(RegionSound sound, int from, int to)
    {
        float highest = float.NegativeInfinity;
        for (int t = from; t <= to; t++)
        {
            highest = Math.Max(highest, sound.Frames[t].LevelDbfs);
        }

        return highest;
    }
}
