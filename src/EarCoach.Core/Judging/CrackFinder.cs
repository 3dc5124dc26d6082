namespace EarCoach.Core.Judging;

/// <summary>Finds a short other pitch at the start of a note, or within it, in the samples.</summary>
/// <remarks>
/// Block by block the sound is predicted by its own past and future: by the period of the note, as it is or bent by a scoop, by that of the
/// sound before, and by each period that another pitch could have. A crack is a run of blocks in which the other pitch alone leaves
/// little unexplained. An attack is no run, a scoop is explained by the bent note, an echo by the sound before. Where the sound before rings on
/// it hides the others, so a second look is taken at what its period does not predict. How the length of a run, its clarity, its loudness, its
/// lead and its place are weighed is a logistic regression over 105,000 notes of nine instruments in eight rooms, 588 of them cracked: made tones
/// of four sound fonts and recorded ones. Each of thirty-two sets was foretold from the others: 86 of 100 cracks were heard, with one false alarm
/// in 4,000 notes.
/// </remarks>
internal static class CrackFinder
{
    /// <summary>So far from its note a crack is looked for.</summary>
    public const double ReachSemitones = 5;

    /// <summary>85 cents: less is a scoop or a matter of intonation.</summary>
    public const double LeastJumpSemitones = 0.85;

    /// <summary>What lies so near to an earlier pitch is that pitch.</summary>
    public const double SamePitchSemitones = 0.6;

    /// <summary>The share of the energy that another pitch must explain alone.</summary>
    private const double LeastShare = 0.15;

    /// <summary>In blocks of this length periods are held against each other.</summary>
    public const double BlockSeconds = 0.004;

    private const double LeastShareIfExact = 0.03;
    private const double LeastRatioIfExact = 2;
    private const double LeastJumpIfExact = 1.4;
    private const double BeforeSeconds = 0.17;
    private const double AfterSeconds = 0.25;
    private const double SettledSeconds = 0.13;
    private const double AtMostBeforeSeconds = 0.03;   // the note itself follows at once
    private const double AtMostAfterSeconds = 0.06;    // later it is no beginning
    private const int LeastBlocks = 12;
    private const double LeastClarity = 0.75;
    private const double LeastWeight = 0;
    private const double ScoopWeight = 5;              // a real horn may set in a semitone low and slide up: another partial lies farther off
    private const double ScoopSemitones = 1.25;        // so far a slide reaches,
    private const double JumpSemitones = 1.75;         // and so far not
    private const double ReachOfEcho = 7;              // in semitones
    private const double UsuallyApart = 5;
    private static readonly double[] _nearby = [-0.5, -0.25, 0, 0.25, 0.5];

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
        double lowest = Math.Min(midi - ReachSemitones, Math.Min(old ?? midi, older ?? midi)) - 1;
        PeriodFit fit = PeriodFit.Of(sound, from, block, blocks, lowest);
        CrackSearch Search(PeriodFit part, params double?[] earlier) => new()
        {
            Fit = part,
            Whole = fit.Energy,
            BlocksPerSecond = rate / block,
            LastFirst = (int)((onset + (AtMostAfterSeconds * rate) - from) / block),
            LeastEnd = (int)((onset - (AtMostBeforeSeconds * rate) - from) / block),
            Settled = settled,
            Midi = midi,
            Earlier = [.. earlier.OfType<double>()],
        };

        CrackSearch.Run? first = Search(fit, old).Best(old is { } last ? [.. Rival.OfSoundBefore(fit, last)] : [new Rival(double.NaN, fit.Energy)]);
        CrackSearch.Run? second = null;
        if (old is { } ringing)
        {
            PeriodFit rest = fit.Without(ringing);
            var rivals = new List<Rival> { new(double.NaN, rest.Energy) };
            rivals.AddRange(new[] { ringing - Rival.BendSemitones, ringing + Rival.BendSemitones }.Select(pitch => new Rival(pitch, fit.Without(pitch).Energy)));
            if (older is { } echo && Math.Abs(echo - midi) > LeastJumpSemitones / 2)
            {
                rivals.Add(new Rival(double.NaN, rest.Unexplained(echo)));
            }

            second = Search(rest, old, older).Best(rivals);
        }

        (CrackSearch.Run? best, double weight) = new[] { first, second }.Select(each => (Run: each, Weight: WeightOf(each))).MaxBy(each => each.Weight);
        if (best is not { } run || weight <= LeastWeight)
        {
            return null;
        }

        var crack = new Crack(run.Midi, from + ((run.First - 0.5) * block), from + ((run.End + 0.5) * block)); // the blocks at its edges are half its own
        return SoundingNote.IsIn(sound, crack, end, old, midi) ? null : crack;

        double WeightOf(CrackSearch.Run? heard) => heard is { } each
            ? Weight(each, (from + ((double)each.First * block) - onset) / rate, (from + ((double)each.End * block) - onset) / rate, old) - WeightOfScoop(Math.Abs(each.Midi - midi))
            : double.NegativeInfinity;
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
        if (blocks < 1 || (old is { } earlier && Math.Abs(other - earlier) < SamePitchSemitones))
        {
            return false;
        }

        PeriodFit fit = PeriodFit.Of(sound, (long)from, block, blocks, Math.Min(old ?? midi, Math.Min(midi, other)) - 1);
        double energy = fit.Energy.Sum();
        IEnumerable<double[]> before = old is { } last
            ? Rival.OfSoundBefore(fit, last).Where(r => r.IsToldFrom(other)).Select(r => r.Unexplained)
            : [];
        double own = Rival.Least([.. Rival.OfNote(fit, midi), .. before]).Sum();
        double best = _nearby.Select(off => other + off).Min(pitch => Math.Abs(pitch - midi) < LeastJumpSemitones ? energy : fit.Unexplained(pitch).Sum());
        return own - best > Needed(LeastShare, energy, best, Math.Abs(other - midi)) && energy - best > LeastClarity * energy;
    }

    /// <summary>How much more of a stretch another pitch must explain alone than the note's own: the less, the less it leaves unexplained itself.</summary>
    /// <remarks>A tone with one strong harmonic is explained well by periods that it does not have, but never as well as by its own.</remarks>
    /// <param name="share">What suffices in any case, as a share of the energy.</param>
    /// <param name="energy">Of the stretch.</param>
    /// <param name="unexplained">What the other pitch leaves of it.</param>
    /// <param name="jump">How far the other pitch lies from the note, in semitones: one near it may be the note bent by its attack.</param>
    internal static double Needed(double share, double energy, double unexplained, double jump) =>
        jump < LeastJumpIfExact ? share * energy : Math.Min(share * energy, (LeastShareIfExact * energy) + (LeastRatioIfExact * unexplained));

    /// <summary>How much speaks for a crack: the logarithm of its chances.</summary>
    /// <param name="run">Where another pitch is heard.</param>
    /// <param name="start">Its first block against the onset, in seconds.</param>
    /// <param name="end">Its end against the onset, in seconds.</param>
    /// <param name="old">The pitch just before; null after silence.</param>
    private static double Weight(CrackSearch.Run run, double start, double end, double? old)
    {
        double clear = -Math.Log10(1 - run.Clarity + 0.001);
        double loud = Math.Clamp(Math.Log(run.Loudness + 0.001), -3, 1.5);
        double apart = old is { } last ? Math.Min(Math.Abs(run.Midi - last), ReachOfEcho) : UsuallyApart;
        double late = Math.Clamp(start, -0.15, 0.1);
        return (3.69 * Math.Log(end - start)) + (6.54 * clear) - (0.97 * loud) + (1.5 * Math.Log(run.Lead + 0.0001))
            + ((21.7 + (41 * clear)) * late) - (5.84 * Math.Abs(Math.Clamp(end, -0.1, 0.15))) - (0.28 * apart) + 11.01;
    }

    /// <summary>What speaks against a crack that is so near to its note that it may be the slide of its attack.</summary>
    private static double WeightOfScoop(double jump) => ScoopWeight * Math.Clamp((JumpSemitones - jump) / (JumpSemitones - ScoopSemitones), 0, 1);

    /// <summary>Another pitch between the sound before and a note.</summary>
    /// <param name="Midi">Its pitch.</param>
    /// <param name="Start">Where it begins, on the clock of the analysed samples.</param>
    /// <param name="End">Where it ends.</param>
    internal readonly record struct Crack(double Midi, double Start, double End);
}
