using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Finds a short other pitch at the start of a note, or within it, in the samples.</summary>
/// <remarks>
/// Block by block the sound is predicted by its own past and future: by the period of the note, as it is or bent by a scoop, by that of the
/// sound before, and by each period that another pitch could have. A crack is a run of blocks in which the other pitch alone leaves
/// little unexplained. An attack is no run, a scoop is explained by the bent note, an echo by the sound before. Where the sound before rings on
/// it hides the others, so a second look is taken at what its period does not predict.
/// </remarks>
internal static class CrackFinder
{
    private const double ReachSemitones = 5;
    private const double StepSemitones = 0.25;
    private const double LeastJumpSemitones = 0.85;   // 85 cents: less is a scoop or a matter of intonation
    private const double SamePitchSemitones = 0.6;    // what lies so near to an earlier pitch is that pitch
    private const double ToldApartSemitones = 0.75;
    private const double BendSemitones = 0.3;
    private const double BlockSeconds = 0.004;
    private const double BeforeSeconds = 0.17;
    private const double AfterSeconds = 0.25;
    private const double SettledSeconds = 0.13;
    private const double LeastSeconds = 0.035;        // less cannot be told from an ordinary attack
    private const double LongestSeconds = 0.16;       // more is a note of its own
    private const int LeastPeriods = 6;               // a reed, lip or string needs some periods to settle on any pitch,
    private const double LongestAttackSeconds = 0.055; // but not longer than this on the lowest
    private const double AtMostBeforeSeconds = 0.03;  // the note itself follows at once
    private const double AtMostAfterSeconds = 0.06;   // later it is no beginning
    private const int EdgeBlocks = 2;                 // what sounds from the beginning on is the sound before
    private const int LeastBlocks = 12;
    private const double Margin = 0.12;               // of its energy, that the other pitch must explain of a block better
    private const double QuietShare = 0.003;          // of the note's energy: less is not heard
    private const double LeastShare = 0.15;
    private const double LeastLoudness = 0.1;         // against the note
    private const double LeastShareOfSound = 0.25;    // of all that sounds, in what the sound before leaves: less is that sound dying away unevenly
    private const double LeastClarity = 0.75;
    private const double LeastClarityOfRest = 0.85; // what is left of an echo has some period too

    /// <summary>Looks for another pitch at the start of a note.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="onset">Where the note seems to begin, on the clock of the analysed samples.</param>
    /// <param name="earliest">Nothing earlier belongs to it.</param>
    /// <param name="end">Where it ends.</param>
    /// <param name="old">The pitch just before; null after silence, or where it is the same.</param>
    /// <param name="older">The one before that, which may still echo; null for none.</param>
    /// <param name="midi">The note's pitch.</param>
    public static Crack? Find(RegionSound sound, double onset, double earliest, double end, double? old, double? older, double midi)
    {
        double rate = sound.AnalysisRateHz;
        int block = (int)(BlockSeconds * rate);
        long from = (long)Math.Max(earliest, onset - (BeforeSeconds * rate));
        int blocks = (int)((Math.Min(end - (0.01 * rate), onset + (AfterSeconds * rate)) - from) / block);
        if (blocks < LeastBlocks)
        {
            return null;
        }

        int settled = Math.Clamp((int)((onset + (SettledSeconds * rate) - from) / block), 0, blocks);
        var place = new Place((int)((onset + (AtMostAfterSeconds * rate) - from) / block), (int)((onset - (AtMostBeforeSeconds * rate) - from) / block));
        double lowest = Math.Min(midi - ReachSemitones, Math.Min(old ?? midi, older ?? midi)) - 1;
        PeriodFit fit = PeriodFit.Of(sound, from, block, blocks, lowest);
        double[] whole = fit.Energy();
        var before = new List<Rival>();
        if (old is { } last)
        {
            before.AddRange(Old(fit, last));
        }
        else
        {
            before.Add(new Rival(double.NaN, whole));
        }

        Run? run = Best(fit, whole, before, settled, place, midi, old, null, rate / block);
        if (run is not { Clarity: > LeastClarity } && old is { } ringing)
        {
            PeriodFit rest = fit.Without(ringing);
            var rivals = new List<Rival> { new(double.NaN, rest.Energy()) };
            rivals.AddRange(Bent(ringing, BendSemitones).Select(pitch => new Rival(pitch, fit.Without(pitch).Energy())));
            if (older is { } echo && Math.Abs(echo - midi) > LeastJumpSemitones / 2)
            {
                rivals.Add(new Rival(double.NaN, rest.Unexplained(echo)));
            }

            run = Best(rest, whole, rivals, settled, place, midi, old, older, rate / block) is { Clarity: > LeastClarityOfRest } clear ? clear : null;
        }

        return run is { Clarity: > LeastClarity } found
            ? new Crack(found.Midi, from + ((found.First - 0.5) * block), from + ((found.End + 0.5) * block)) // the blocks at its edges are half its own
            : null;
    }

    /// <summary>Whether another pitch than a note's own explains a stretch of it best.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="from">Where the stretch begins, on the clock of the analysed samples.</param>
    /// <param name="to">Where it ends.</param>
    /// <param name="other">The other pitch, to a semitone.</param>
    /// <param name="midi">The note's pitch.</param>
    /// <param name="old">The pitch just before, which may go on or echo; null after silence.</param>
    public static bool Sounds(RegionSound sound, double from, double to, double other, double midi, double? old)
    {
        int block = (int)(BlockSeconds * sound.AnalysisRateHz);
        int blocks = (int)((to - from) / block);
        if (blocks < 1 || Math.Abs(other - (old ?? 0)) < SamePitchSemitones)
        {
            return false;
        }

        PeriodFit fit = PeriodFit.Of(sound, (long)from, block, blocks, Math.Min(old ?? midi, Math.Min(midi, other)) - 1);
        double energy = fit.Energy().Sum();
        double own = Least(old is { } last ? [.. Own(fit, midi), .. Old(fit, last).Where(r => Math.Abs(r.Midi - other) > ToldApartSemitones).Select(r => r.Unexplained)] : Own(fit, midi)).Sum();
        double best = new[] { -2 * StepSemitones, -StepSemitones, 0, StepSemitones, 2 * StepSemitones }.Min(off => Math.Abs(other + off - midi) < LeastJumpSemitones ? energy : fit.Unexplained(other + off).Sum());
        return own - best > LeastShare * energy && energy - best > LeastClarity * energy;
    }

    private static Run? Best(PeriodFit fit, double[] whole, List<Rival> before, int settled, Place place, double midi, double? old, double? older, double blocksPerSecond)
    {
        double[] energy = fit.Energy();
        double loudness = whole[(settled < whole.Length ? settled : 0)..].Average();
        double[] own = Least(Own(fit, midi));
        double reference = energy[(settled < energy.Length ? settled : 0)..].Average() + 1e-15;
        Run? best = null;
        for (double off = -ReachSemitones; off <= ReachSemitones; off += StepSemitones)
        {
            double pitch = midi + off;
            if (Math.Abs(off) < LeastJumpSemitones || Math.Abs(pitch - (old ?? 0)) < SamePitchSemitones || Math.Abs(pitch - (older ?? 0)) < SamePitchSemitones)
            {
                continue;
            }

            double[] rivals = Least([own, .. before.Where(r => !(Math.Abs(r.Midi - pitch) < ToldApartSemitones)).Select(r => r.Unexplained)]);
            double[] other = fit.Unexplained(pitch);
            if (Longest(energy, rivals, other, reference, place) is not { } run)
            {
                continue;
            }

            int blocks = run.End - run.First;
            double all = energy.AsSpan(run.First, blocks).ToArray().Sum();
            double left = other.AsSpan(run.First, blocks).ToArray().Sum();
            double usual = rivals.AsSpan(run.First, blocks).ToArray().Sum();
            double seconds = blocks / blocksPerSecond;
            double sound = whole.AsSpan(run.First, blocks).ToArray().Sum();
            bool holds = seconds >= Math.Clamp(LeastPeriods / EqualTemperament.HzOf(pitch), LeastSeconds, LongestAttackSeconds) && seconds <= LongestSeconds;
            bool heard = usual - left > LeastShare * all && all > LeastShareOfSound * sound && sound > LeastLoudness * loudness * blocks;
            if (holds && heard && (best is null || run.Gain > best.Value.Gain))
            {
                best = new Run(pitch, run.First, run.End, run.Gain, 1 - (left / all));
            }
        }

        return best;
    }

    /// <summary>The run of blocks that another pitch explains better by the most.</summary>
    private static (int First, int End, double Gain)? Longest(double[] energy, double[] rivals, double[] other, double reference, Place place)
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

            sum += rivals[k] - other[k] - (Margin * energy[k]) - (QuietShare * reference);
            if (sum > (best?.Gain ?? 0) && first >= EdgeBlocks && first <= place.LastFirst && k >= place.LeastEnd)
            {
                best = (first, k + 1, sum);
            }
        }

        return best;
    }

    private static IEnumerable<double[]> Own(PeriodFit fit, double midi) => Bent(midi, 0, BendSemitones, 2 * BendSemitones).Select(pitch => fit.Unexplained(pitch));

    private static IEnumerable<Rival> Old(PeriodFit fit, double midi) =>
        Bent(midi, 0, BendSemitones).Select(pitch => new Rival(pitch, fit.Unexplained(pitch, goesOn: true)));

    private static IEnumerable<double> Bent(double midi, params double[] by) => by.SelectMany(b => b == 0 ? [midi] : new[] { midi - b, midi + b });

    private static double[] Least(IEnumerable<double[]> explanations)
    {
        double[][] all = [.. explanations];
        return [.. Enumerable.Range(0, all[0].Length).Select(k => all.Min(x => x[k]))];
    }

    /// <summary>Another pitch between the sound before and a note.</summary>
    /// <param name="Midi">Its pitch.</param>
    /// <param name="Start">Where it begins, on the clock of the analysed samples.</param>
    /// <param name="End">Where it ends.</param>
    internal readonly record struct Crack(double Midi, double Start, double End);

    private readonly record struct Place(int LastFirst, int LeastEnd);

    private readonly record struct Rival(double Midi, double[] Unexplained);

    private readonly record struct Run(double Midi, int First, int End, double Gain, double Clarity);
}
