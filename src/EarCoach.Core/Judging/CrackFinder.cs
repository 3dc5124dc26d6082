using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Finds a short other pitch between the sound before and a note, too brief for the frames to tell.</summary>
/// <remarks>
/// Three stretches are compared with two: before the note the old period predicts the samples, then perhaps another period for a while, then
/// the note's own. What the extra stretch explains, as a share of its energy, is how surely it is there.
/// </remarks>
internal static class CrackFinder
{
    private const double ReachSemitones = 5;
    private const double StepSemitones = 0.5;
    private const double LeastJumpSemitones = 0.85; // 85 cents: less is a scoop or a matter of intonation
    private const double LongestSeconds = 0.2;
    private const double LongestBeforeSeconds = 0.17;
    private const double EdgeSeconds = 0.008;

    /// <summary>Looks for another pitch at the start of a note.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="onset">Where the note begins, on the clock of the analysed samples.</param>
    /// <param name="earliest">Nothing earlier belongs to it.</param>
    /// <param name="end">Where it ends.</param>
    /// <param name="oldPeriod">Period of the sound just before, in samples; null after silence.</param>
    /// <param name="midi">The note's pitch.</param>
    public static Crack? Find(RegionSound sound, double onset, double earliest, double end, double? oldPeriod, double midi)
    {
        double rate = sound.AnalysisRateHz;
        long from = (long)Math.Max(earliest, onset - (LongestBeforeSeconds * rate));
        long to = (long)Math.Min(end - (0.01 * rate), onset + ((LongestSeconds + 0.05) * rate));
        int step = Math.Max(1, (int)(rate / 16_000));
        int count = (int)((to - from) / step);
        if (count < 0.06 * rate / step)
        {
            return null;
        }

        double[] old = Running(sound, from, step, count, oldPeriod is { } p ? -p : 0);
        double[] own = Running(sound, from, step, count, PeriodOf(midi, rate));
        double[] energy = Running(sound, from, step, count, 0);
        double two = double.PositiveInfinity;
        for (int c = 0; c <= count; c++)
        {
            two = Math.Min(two, old[c] + own[count] - own[c]);
        }

        Crack? best = null;
        for (double off = -ReachSemitones; off <= ReachSemitones; off += StepSemitones)
        {
            if (Math.Abs(off) < LeastJumpSemitones)
            {
                continue;
            }

            double[] other = Running(sound, from, step, count, PeriodOf(midi + off, rate));
            double bestStart = double.PositiveInfinity;
            int start = 0;
            double three = double.PositiveInfinity;
            (int Start, int End) stretch = default;
            for (int b = 0; b <= count; b++)
            {
                if (old[b] - other[b] < bestStart)
                {
                    bestStart = old[b] - other[b];
                    start = b;
                }

                double cost = bestStart + other[b] + own[count] - own[b];
                if (cost < three)
                {
                    three = cost;
                    stretch = (start, b);
                }
            }

            if (stretch.Start * step < EdgeSeconds * rate && oldPeriod is not null)
            {
                continue; // it began before anything of this note: the sound before, not a crack
            }

            double within = 2 * (energy[stretch.End] - energy[stretch.Start]);
            if (within <= 0)
            {
                continue;
            }

            double share = (two - three) / within;
            double clarity = 1 - ((other[stretch.End] - other[stretch.Start]) / within);
            double gain = two - three;
            if (best is null || gain > best.Value.Gain)
            {
                double meanWithin = (energy[stretch.End] - energy[stretch.Start]) / Math.Max(1, stretch.End - stretch.Start);
                double meanAfter = (energy[count] - energy[stretch.End]) / Math.Max(1, count - stretch.End);
                best = new Crack(
                    midi + off, from + ((double)stretch.Start * step), from + ((double)stretch.End * step), share, clarity, gain, meanWithin / (meanAfter + 1e-12));
            }
        }

        return best;
    }

    private static double PeriodOf(double midi, double rate) => rate / EqualTemperament.HzOf(midi);

    /// <summary>Running sums of squared differences between each sample and the one a shift later; shift 0: running energy.</summary>
    private static double[] Running(RegionSound sound, long from, int step, int count, double shift)
    {
        var sums = new double[count + 1];
        for (int k = 0; k < count; k++)
        {
            long at = from + ((long)k * step);
            double x = sound.Samples[at];
            double d = shift == 0 ? x : x - OnsetRefiner.At(sound, at + shift);
            sums[k + 1] = sums[k] + (d * d);
        }

        return sums;
    }

    /// <summary>Another pitch between the sound before and a note.</summary>
    /// <param name="Midi">Its pitch.</param>
    /// <param name="Start">Where it begins, on the clock of the analysed samples.</param>
    /// <param name="End">Where it ends.</param>
    /// <param name="Share">The share of its energy that it alone explains, at most 1.</param>
    /// <param name="Clarity">How well it repeats itself, at most 1.</param>
    /// <param name="Gain">What it explains, in squared samples.</param>
    /// <param name="Loudness">Its power against that of the sound after it.</param>
    internal readonly record struct Crack(double Midi, double Start, double End, double Share, double Clarity, double Gain, double Loudness);
}
