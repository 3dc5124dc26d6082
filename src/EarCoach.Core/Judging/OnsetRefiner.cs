namespace EarCoach.Core.Judging;

/// <summary>Places an onset more finely than the frames do, from the samples themselves.</summary>
internal static class OnsetRefiner
{
    private const double NearFloor = 2;          // times the least level: as quiet as it was,
    private const double SilentShare = 0.03;     // and silent beside the note
    private const double FaintShare = 0.5;
    private const double LeastFaintSeconds = 0.025;
    private const double ThresholdShare = 0.2; // -14 dB of the steady level: within the 15 to 20 dB below the maximum of Rasch (1979)

    /// <summary>Where the level of a struck note rises.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="frame">Where the decoder has it begin.</param>
    /// <param name="earliestFrame">Nothing earlier belongs to the onset.</param>
    /// <param name="endFrame">Where the note ends.</param>
    /// <param name="smoothSeconds">Length of the level window: a period or two of the note.</param>
    /// <param name="oldPeriodSeconds">Period of the sound before, whose echo may still ring; null: none, or the same as the note's.</param>
    /// <returns>Place on the clock of the analysed samples.</returns>
    public static double Struck(RegionSound sound, int frame, int earliestFrame, int endFrame, double smoothSeconds, double? oldPeriodSeconds)
    {
        double rate = sound.AnalysisRateHz;
        int step = Math.Max(1, (int)(rate * 0.001));
        int half = Math.Max(2, (int)(rate * smoothSeconds / 2));
        long centre = (long)sound.AnalysisSampleOf(frame);
        long from = Math.Max((long)sound.AnalysisSampleOf(earliestFrame), centre - (long)(0.11 * rate));
        long to = centre + (long)(0.09 * rate);
        long noteEnd = (long)sound.AnalysisSampleOf(Math.Min(endFrame, sound.Frames.Length - 1));
        (double contrast, double onset) = RiseIn(sound, 0, centre, from, to, noteEnd, step, half);
        if (oldPeriodSeconds is { } period)
        {
            // What the last note's period does not predict: its echo is gone, the new note stays.
            (double withoutEcho, double at) = RiseIn(sound, period * rate, centre, from, to, noteEnd, step, half);
            if (withoutEcho > 1.3 * contrast)
            {
                return at;
            }
        }

        return onset;
    }

    /// <summary>
    /// Where one pitch gives way to the next: before it each sample is best predicted by the sample one old period earlier, after it by the
    /// sample one new period later. No window blurs this, so it is exact to a few milliseconds at any pitch.
    /// </summary>
    /// <returns>Place on the clock of the analysed samples.</returns>
    public static double Crossing(RegionSound sound, double fromFrame, double toFrame, double oldPeriodSeconds, double newPeriodSeconds)
    {
        double rate = sound.AnalysisRateHz;
        long from = (long)sound.AnalysisSampleOf(fromFrame);
        long to = (long)sound.AnalysisSampleOf(toFrame);
        double back = oldPeriodSeconds * rate;
        double ahead = newPeriodSeconds * rate;
        double sum = 0;
        double best = 0;
        long at = from;
        for (long t = from; t < to; t++)
        {
            double x = sound.Samples[t];
            double old = x - At(sound, t - back);
            double fresh = x - At(sound, t + ahead);
            sum += (old * old) - (fresh * fresh);
            if (sum < best)
            {
                best = sum;
                at = t + 1;
            }
        }

        return at;
    }

    /// <summary>How far the level falls between two sounds, in dB below the weaker of them.</summary>
    public static double GapDepthDb(RegionSound sound, int frame, int earliestFrame, int endFrame, double smoothSeconds)
    {
        double rate = sound.AnalysisRateHz;
        int step = Math.Max(1, (int)(rate * 0.002));
        int half = Math.Max(2, (int)(rate * smoothSeconds / 2));
        long centre = (long)sound.AnalysisSampleOf(frame);
        long from = Math.Max((long)sound.AnalysisSampleOf(Math.Max(0, earliestFrame)), centre - (long)(0.12 * rate));
        long to = Math.Min((long)sound.AnalysisSampleOf(Math.Min(endFrame, sound.Frames.Length - 1)), centre + (long)(0.10 * rate));
        var level = new List<double>();
        for (long at = from; at <= to; at += step)
        {
            level.Add(Amplitude(sound, at, half, 0));
        }

        double deepest = 0;
        for (int k = 0; k < level.Count; k++)
        {
            long at = from + ((long)k * step);
            if (Math.Abs(at - centre) > 0.06 * rate)
            {
                continue;
            }

            double before = level.Take(k + 1).Max();
            double after = level.Skip(k).Max();
            deepest = Math.Max(deepest, 20 * Math.Log10((Math.Min(before, after) + 1e-9) / (level[k] + 1e-9)));
        }

        return deepest;
    }

    private static (double Contrast, double Onset) RiseIn(
        RegionSound sound, double oldPeriod, long centre, long from, long to, long noteEnd, int step, int half)
    {
        double rate = sound.AnalysisRateHz;
        int points = (int)((to - from) / step) + 1;
        var level = new double[points];
        for (int k = 0; k < points; k++)
        {
            level[k] = Amplitude(sound, from + ((long)k * step), half, oldPeriod);
        }

        // The level that the note reaches: the median of its beginning, attack left out.
        long steadyFrom = centre + (long)(0.03 * rate);
        long steadyTo = Math.Max(steadyFrom + (long)(0.04 * rate), Math.Min(noteEnd, centre + (long)(0.18 * rate)));
        var steady = new List<double>();
        for (long at = steadyFrom; at <= steadyTo; at += 4 * step)
        {
            steady.Add(Amplitude(sound, at, half, oldPeriod));
        }

        steady.Sort();
        double reached = steady[steady.Count / 2];

        // The quietest point before the rise, then the crossing after it.
        int centreIndex = Math.Clamp((int)((centre - from) / step), 0, points - 1);
        int searchEnd = Math.Min(points - 1, centreIndex + (int)(0.03 * rate / step));
        int quietest = 0;
        for (int k = 1; k <= searchEnd; k++)
        {
            if (level[k] <= level[quietest])
            {
                quietest = k;
            }
        }

        double bottom = level[quietest];

        // What sounded before it was as quiet again is another sound: a tap of the foot, a metronome.
        int quiet = Array.FindLastIndex(level, searchEnd, l => l < NearFloor * bottom && l < SilentShare * reached);
        quietest = Math.Max(quietest, quiet);
        double threshold = Math.Max(ThresholdShare * reached, bottom + (0.2 * (reached - bottom)));
        int crossing = Crossing(level, quietest, centreIndex, threshold, (int)Math.Ceiling(LeastFaintSeconds * rate / step));
        return (reached / (bottom + 1e-9), from + ((double)crossing * step));
    }

    /// <summary>Where a level rises over a threshold. A short sound that has died away again before the note rises is no beginning.</summary>
    private static int Crossing(double[] level, int from, int note, double threshold, int leastFaint)
    {
        int Next(int after) => Array.FindIndex(level, after, l => l >= threshold) is var found && found >= 0 ? found : level.Length - 1;
        int crossing = Next(from);
        int faint = 0;
        for (int k = crossing; k < note; k++)
        {
            faint = level[k] < FaintShare * threshold ? faint + 1 : 0;
            if (faint >= leastFaint)
            {
                crossing = k = Next(k);
                faint = 0;
            }
        }

        return crossing;
    }

    private static double Amplitude(RegionSound sound, long at, int half, double oldPeriod)
    {
        double sum = 0;
        for (int i = -half; i <= half; i++)
        {
            double x = sound.Samples[at + i];
            if (oldPeriod > 0)
            {
                x -= At(sound, at + i - oldPeriod);
            }

            sum += x * x;
        }

        return Math.Sqrt(sum / ((2 * half) + 1));
    }

    private static double At(RegionSound sound, double place)
    {
        // Catmull-Rom: straight lines would lose the upper harmonics and with them the match of periods.
        long whole = (long)Math.Floor(place);
        double f = place - whole;
        double a = sound.Samples[whole - 1];
        double b = sound.Samples[whole];
        double c = sound.Samples[whole + 1];
        double d = sound.Samples[whole + 2];
        return b + (0.5 * f * (c - a + (f * ((2 * a) - (5 * b) + (4 * c) - d + (f * ((3 * (b - c)) + d - a))))));
    }
}
