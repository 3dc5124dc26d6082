using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Where a pitch is plain, frame by frame: softer than its neighbours, or after other sounds, a note is heard by that.</summary>
internal static class PlainPitch
{
    /// <summary>A shorter note is missing: the definition of the fault.</summary>
    public const double LeastSeconds = 0.03;

    private const float Clarity = 0.7f;
    private const double Semitones = 0.4;

    /// <summary>Whether a frame has a pitch.</summary>
    /// <param name="frame">The frame.</param>
    /// <param name="pitch">As a MIDI note number with its fraction.</param>
    public static bool IsIn(in HeardFrame frame, double pitch) => frame.Clarity > Clarity && Math.Abs(frame.Midi - pitch) < Semitones;

    /// <summary>The first frame from which on a pitch is plain for so long as a note is heard; null where it never is.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="pitch">As a MIDI note number with its fraction.</param>
    /// <param name="from">The first frame that is looked at.</param>
    /// <param name="end">The frame after the last.</param>
    public static int? Begins(RegionSound sound, double pitch, int from, int end)
    {
        int run = 0;
        for (int t = from; t < end; t++)
        {
            run = IsIn(in sound.Frames[t], pitch) ? run + 1 : 0;
            if (run >= LeastSeconds * sound.FramesPerSecond)
            {
                return t - run + 1;
            }
        }

        return null;
    }
}
