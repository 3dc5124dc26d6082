namespace EarCoach.Core.Judging;

/// <summary>What a supposed pitch leaves unexplained of each block of a stretch of sound.</summary>
/// <param name="Midi">The pitch; not a number where it is no single one.</param>
/// <param name="Unexplained">Energy.</param>
internal readonly record struct Rival(double Midi, double[] Unexplained)
{
    /// <summary>How far a pitch is bent at its beginning or end; a scoop goes twice as far.</summary>
    public const double BendSemitones = 0.3;

    private const double ToldApartSemitones = 0.75;

    /// <summary>Whether another pitch can be told from it.</summary>
    public bool IsToldFrom(double midi) => !(Math.Abs(Midi - midi) < ToldApartSemitones);

    /// <summary>A note as it is, bent, and scooped.</summary>
    public static IEnumerable<double[]> OfNote(PeriodFit fit, double midi) =>
        Bent(midi, 0, BendSemitones, 2 * BendSemitones).Select(pitch => fit.Unexplained(pitch));

    /// <summary>The sound before, as it was, and bent.</summary>
    public static IEnumerable<Rival> OfSoundBefore(PeriodFit fit, double midi) =>
        Bent(midi, 0, BendSemitones).Select(pitch => new Rival(pitch, fit.Unexplained(pitch, goesOn: true)));

    /// <summary>The least that any of them leaves, block by block.</summary>
    public static double[] Least(IEnumerable<double[]> explanations)
    {
        double[][] all = [.. explanations];
        return [.. Enumerable.Range(0, all[0].Length).Select(k => all.Min(x => x[k]))];
    }

    private static IEnumerable<double> Bent(double midi, params double[] by) => by.SelectMany(b => b == 0 ? [midi] : new[] { midi - b, midi + b });
}
