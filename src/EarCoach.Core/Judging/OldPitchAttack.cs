namespace EarCoach.Core.Judging;

/// <summary>Finds a note that was struck on the pitch of the note before and only then went to its own.</summary>
/// <remarks>
/// Without a new stroke that would be the end of the note before. The stroke shows as a hole in what the old pitch explains of the sound: before
/// it the note before, after it the old pitch as loud as it was, which no echo is.
/// </remarks>
internal static class OldPitchAttack
{
    private const double BeforeSeconds = 0.3;
    private const double AfterSeconds = 0.1;
    private const double ReachSeconds = 0.04;       // the pitch changes within so much of where the frames say
    private const double Margin = 0.2;
    private const double MarginIfLate = 0.1;
    private const double LeastClarity = 0.85;
    private const double LeastClarityIfLate = 0.8;
    private const double HoleDb = 5;
    private const double HoleIfLateDb = 3.5;
    private const double FainterDb = 7;             // an echo is fainter by more,
    private const double FainterIfDeepDb = 14;
    private const double DeepDb = 14;               // and swells by less
    private const double HalfDb = 6;
    private const int SmoothBlocks = 3;

    /// <summary>Where the stroke and the pitch of its own are; null where the note has no such beginning.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="change">Where the frames show the note's own pitch, on the clock of the analysed samples.</param>
    /// <param name="begun">Where the note before begins.</param>
    /// <param name="end">Where the note ends.</param>
    /// <param name="old">The pitch of the note before.</param>
    /// <param name="midi">The note's pitch.</param>
    /// <param name="isLate">Whether its pitch is too late: then it is a fault in any case, and less is asked of the stroke.</param>
    public static CrackFinder.Crack? Find(RegionSound sound, double change, double begun, double end, double old, double midi, bool isLate)
    {
        double jump = Math.Abs(old - midi);
        if (jump is < CrackFinder.LeastJumpSemitones or > CrackFinder.ReachSemitones)
        {
            return null;
        }

        double rate = sound.AnalysisRateHz;
        int block = (int)(CrackFinder.BlockSeconds * rate);
        long from = (long)Math.Max(begun, change - (BeforeSeconds * rate));
        int blocks = (int)((Math.Min(end, change + (AfterSeconds * rate)) - from) / block);
        int due = (int)((change - from) / block);
        int reach = (int)(ReachSeconds / CrackFinder.BlockSeconds);
        if (blocks <= due || due < 2 * CrackSearch.LeastSeconds / CrackFinder.BlockSeconds)
        {
            return null;
        }

        PeriodFit fit = PeriodFit.Of(sound, from, block, blocks, Math.Min(old, midi) - 1);
        double[] own = Rival.Least(Rival.OfNote(fit, midi));
        double[] left = Rival.Least(Rival.OfSoundBefore(fit, old).Select(r => r.Unexplained));
        int until = Change(fit.Energy, own, left, Math.Max(0, due - reach), Math.Min(blocks, due + reach));
        double[] level = Levels(fit.Energy, left);
        int most = Math.Max(0, until - (int)(CrackSearch.LongestSeconds / CrackFinder.BlockSeconds));
        int shortest = (int)(CrackSearch.LeastSeconds / CrackFinder.BlockSeconds);
        if (until - shortest <= most)
        {
            return null;
        }

        int hole = Enumerable.Range(most, until - shortest - most).MinBy(k => level[k]);
        double again = level[hole..until].Max();
        double before = level[..(hole + 1)].Max();
        double fainter = HarmonicLines.Db(again, level[hole]) > DeepDb ? FainterIfDeepDb : FainterDb;
        if (HarmonicLines.Db(Math.Min(again, before), level[hole]) < (isLate ? HoleIfLateDb : HoleDb) || HarmonicLines.Db(before, again) > fainter)
        {
            return null;
        }

        int stroke = Enumerable.Range(hole, until - hole).First(k => HarmonicLines.Db(again, level[k]) < HalfDb);
        double all = fit.Energy[stroke..until].Sum();
        double rest = left[stroke..until].Sum();
        return until - stroke >= shortest && 1 - (rest / all) > (isLate ? LeastClarityIfLate : LeastClarity)
            && own[stroke..until].Sum() - rest > (isLate ? MarginIfLate : Margin) * all
            ? new CrackFinder.Crack(old, from + (stroke * block), from + (until * block))
            : null;
    }

    /// <summary>The block from which on the note's own pitch explains the sound better than the old one.</summary>
    private static int Change(double[] energy, double[] own, double[] left, int first, int last)
    {
        int best = first;
        double gain = 0;
        double most = 0;
        for (int k = first; k < last; k++)
        {
            gain += (own[k] - left[k]) / (energy[k] + 1e-15);
            (best, most) = gain > most ? (k + 1, gain) : (best, most);
        }

        return best;
    }

    /// <summary>What the old pitch explains, a little smoothed.</summary>
    private static double[] Levels(double[] energy, double[] left)
    {
        double[] explained = [.. energy.Zip(left, (all, rest) => Math.Max(0, all - rest))];
        return [.. Enumerable.Range(0, explained.Length).Select(k => explained[Math.Max(0, k - (SmoothBlocks / 2))..Math.Min(explained.Length, k + (SmoothBlocks / 2) + 1)].Average())];
    }
}
