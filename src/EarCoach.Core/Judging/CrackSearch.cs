using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Where in a stretch of sound another pitch than a note's is heard by itself for a while.</summary>
internal sealed class CrackSearch
{
    /// <summary>Less cannot be told from an ordinary attack.</summary>
    public const double LeastSeconds = 0.035;

    private const double LeastPeriods = 3.5;          // a low pitch is heard only after some of them

    /// <summary>More is a note of its own.</summary>
    public const double LongestSeconds = 0.16;

    private const double StepSemitones = 0.25;
    private const int EdgeBlocks = 2;                 // what sounds from the beginning on is the sound before
    private const double Margin = 0.12;               // of its energy, that the other pitch must explain of a block better
    private const double QuietShare = 0.003;          // of the note's energy: less is not heard
    private const double LeastLoudness = 0.02;        // against the note
    private const double LeastShareOfSound = 0.08;    // of all that sounds, in what the sound before leaves: less is that sound dying away unevenly

    /// <summary>The stretch, or what the sound before leaves of it.</summary>
    public required PeriodFit Fit { get; init; }

    /// <summary>Energy of all that sounds, block by block.</summary>
    public required double[] Whole { get; init; }

    /// <summary>How many blocks make a second.</summary>
    public required double BlocksPerSecond { get; init; }

    /// <summary>The last block at which a crack may begin.</summary>
    public required int LastFirst { get; init; }

    /// <summary>It does not end before this block.</summary>
    public required int LeastEnd { get; init; }

    /// <summary>From this block on the note has its level.</summary>
    public required int Settled { get; init; }

    /// <summary>The note's pitch.</summary>
    public required double Midi { get; init; }

    /// <summary>Earlier pitches, which are no cracks.</summary>
    public required double[] Earlier { get; init; }

    /// <summary>The run of blocks in which another pitch is heard the most; null for none.</summary>
    /// <param name="before">What the sound before leaves unexplained.</param>
    public Run? Best(IReadOnlyList<Rival> before)
    {
        double[] energy = Fit.Energy;
        double loudness = Level(Whole);
        double[] own = Rival.Least(Rival.OfNote(Fit, Midi));
        double quiet = QuietShare * Level(energy);
        Run? best = null;
        for (double off = -CrackFinder.ReachSemitones; off <= CrackFinder.ReachSemitones; off += StepSemitones)
        {
            double pitch = Midi + off;
            if (Math.Abs(off) < CrackFinder.LeastJumpSemitones || Earlier.Any(e => Math.Abs(pitch - e) < CrackFinder.SamePitchSemitones))
            {
                continue;
            }

            double[] rivals = Rival.Least([own, .. before.Where(r => r.IsToldFrom(pitch)).Select(r => r.Unexplained)]);
            double[] other = Fit.Unexplained(pitch);
            if (Longest(energy, rivals, other, quiet, Math.Abs(off)) is not { } run || (best is { } found && run.Gain <= found.Gain))
            {
                continue;
            }

            int blocks = run.End - run.First;
            double all = Sum(energy, run.First, run.End);
            double left = Sum(other, run.First, run.End);
            double sound = Sum(Whole, run.First, run.End);
            double seconds = blocks / BlocksPerSecond;
            double usual = loudness * blocks;
            bool isTold = seconds is >= LeastSeconds and <= LongestSeconds && seconds * EqualTemperament.HzOf(pitch) >= LeastPeriods;
            if (isTold && all > LeastShareOfSound * sound && sound > LeastLoudness * usual)
            {
                best = new Run(pitch, run.First, run.End, run.Gain, run.Gain / usual, 1 - (left / all), sound / usual);
            }
        }

        return best;
    }

    /// <summary>The run of blocks that another pitch explains better by the most.</summary>
    private (int First, int End, double Gain)? Longest(double[] energy, double[] rivals, double[] other, double quiet, double jump)
    {
        (int First, int End, double Gain)? best = null;
        double sum = 0;
        int first = 0;
        for (int k = 0; k < energy.Length; k++)
        {
            if (sum <= 0)
            {
                sum = 0;
                first = k;
            }

            sum += rivals[k] - other[k] - CrackFinder.Needed(Margin, energy[k], other[k], jump) - quiet;
            if (sum > (best?.Gain ?? 0) && first >= EdgeBlocks && first <= LastFirst && k >= LeastEnd)
            {
                best = (first, k + 1, sum);
            }
        }

        return best;
    }

    private double Level(double[] energy) => energy[(Settled < energy.Length ? Settled : 0)..].Average() + 1e-15;

    private static double Sum(double[] values, int from, int to) => values[from..to].Sum();

    /// <summary>A run of blocks in which another pitch is heard.</summary>
    /// <param name="Midi">Its pitch.</param>
    /// <param name="First">Its first block.</param>
    /// <param name="End">The block after its last.</param>
    /// <param name="Gain">How much energy it alone explains.</param>
    /// <param name="Lead">The same, against the note's energy in as much time.</param>
    /// <param name="Clarity">The share of the energy that it explains.</param>
    /// <param name="Loudness">The energy of all that sounds, against the note's.</param>
    internal readonly record struct Run(double Midi, int First, int End, double Gain, double Lead, double Clarity, double Loudness);
}
