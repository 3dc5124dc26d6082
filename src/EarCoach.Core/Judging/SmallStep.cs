using EarCoach.Core.Listening;
using MathNet.Numerics.Statistics;

namespace EarCoach.Core.Judging;

/// <summary>Finds where a sound steps to a pitch only a little off: a note a semitone away that was played so far out of tune that it seems to be the one before it going on.</summary>
internal static class SmallStep
{
    private const double LeastSemitones = 0.15;     // common practice: a held note strays by less, but for its vibrato, which comes back
    private const double MostSemitones = 0.6;       // more is heard as a note of its own
    private const double ReachSemitones = 0.9;
    private const double SettlingSeconds = 0.05;    // after an onset, what is no steady part
    private const double BesideSeconds = 0.03;      // of a change, where frames hold both
    private const double BeforeSeconds = 0.4;       // so much of the note before tells its pitch
    private const int LeastFrames = 8;
    private const double MostSpread = 0.6;          // of the step: what both sides stray

    /// <summary>Looks for a step.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="from">Where the sound begins, in seconds.</param>
    /// <param name="end">Where it ends.</param>
    /// <param name="due">When the note was due.</param>
    /// <param name="limit">How far from that the step may lie, in seconds.</param>
    /// <param name="pitch">Pitch of the sound.</param>
    /// <param name="upwards">Whether the note is the higher one.</param>
    /// <returns>Where the step is, the pitches before and after it, and how far the latter strays; null where there is none.</returns>
    public static Step? Find(RegionSound sound, double from, double end, double due, double limit, double pitch, bool upwards)
    {
        int Frame(double seconds) => Math.Clamp((int)Math.Round(sound.FrameOfSeconds(seconds)), 0, sound.Frames.Length);
        int first = Frame(Math.Max(from + SettlingSeconds, due - limit - BeforeSeconds));
        int last = Frame(end - BesideSeconds);
        int beside = (int)(BesideSeconds * sound.FramesPerSecond);
        Step? best = null;
        double least = double.PositiveInfinity;
        for (int change = Math.Max(first + beside + LeastFrames, Frame(due - limit)); change <= Math.Min(last - beside - LeastFrames, Frame(due + limit)); change++)
        {
            double[] before = PitchesOf(sound, first, change - beside, pitch);
            double[] after = PitchesOf(sound, change + beside, last, pitch);
            if (before.Length < LeastFrames || after.Length < LeastFrames)
            {
                continue;
            }

            (double was, double strayed) = MiddleOf(before);
            (double @is, double strays) = MiddleOf(after);
            double step = (@is - was) * (upwards ? 1 : -1);
            double spread = (strayed + strays) / step;
            if (step is > LeastSemitones and < MostSemitones && spread < Math.Min(MostSpread, least))
            {
                least = spread;
                best = new Step(sound.SecondsOfFrame(change), was, @is, strays);
            }
        }

        return best;
    }

    private static double[] PitchesOf(RegionSound sound, int from, int end, double pitch)
    {
        var pitches = new List<double>();
        for (int t = from; t < end; t++)
        {
            ref readonly HeardFrame frame = ref sound.Frames[t];
            if (frame.CandidateCount > 0 && Math.Abs(frame.Midi - pitch) < ReachSemitones)
            {
                pitches.Add(frame.Midi);
            }
        }

        return [.. pitches];
    }

    /// <summary>The median, and the median of what lies off it.</summary>
    private static (double Median, double Strays) MiddleOf(double[] values)
    {
        double median = values.Median();
        return (median, values.Select(v => Math.Abs(v - median)).Median());
    }

    /// <summary>A step of pitch.</summary>
    /// <param name="Seconds">Where it is.</param>
    /// <param name="Before">Pitch before it, as a fractional MIDI number.</param>
    /// <param name="After">Pitch after it.</param>
    /// <param name="Strays">Median deviation from that, in semitones.</param>
    internal readonly record struct Step(double Seconds, double Before, double After, double Strays);
}
