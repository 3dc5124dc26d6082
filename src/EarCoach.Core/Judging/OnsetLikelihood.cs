namespace EarCoach.Core.Judging;

/// <summary>How well each moment explains a note's own harmonics, were it the one at which the note sets in.</summary>
/// <remarks>
/// In diffuse sound the power of a narrow band is distributed exponentially about its mean (Schroeder 1954; Kuttruff, Room Acoustics). So a
/// stretch of n independent powers of mean m has the log-likelihood -n (ln m + 1), and what a change of the mean explains is the sum of these
/// over the stretches less that of the whole: nats for each harmonic, which add up. The echo of what was before can only fall: a
/// harmonic that falls where the note should set in counts against the moment.
/// </remarks>
internal static class OnsetLikelihood
{
    private const int LeastSteps = 4;
    private const int BesideSteps = (int)(0.1 / OwnHarmonics.StepSeconds); // of the sound on either side of a stroke
    private static readonly double[] _gaps = [0.028, 0.040, 0.056, 0.072, 0.088]; // seconds: how long a tongue or a bow leaves the sound

    /// <summary>For each moment, what a rise of the harmonics there explains, in nats.</summary>
    public static double[] OfRise(OwnHarmonics power)
    {
        int count = power.Count;
        double[] gain = new double[count];
        Array.Fill(gain, double.NegativeInfinity);
        for (int t = LeastSteps; t <= count - LeastSteps; t++)
        {
            gain[t] = Rise(power, 0, t, count);
        }

        return gain;
    }

    /// <summary>For each moment, what a gap between two equal sounds that ends there explains, in nats.</summary>
    public static double[] OfStroke(OwnHarmonics power)
    {
        double[] gain = new double[power.Count];
        for (int t = 0; t < gain.Length; t++)
        {
            gain[t] = GapsAt(power, t).Select(gap => Stroke(power, gap)).DefaultIfEmpty(double.NegativeInfinity).Max();
        }

        return gain;
    }

    /// <summary>What the two edges of the gap that ends at a moment explain, each by itself, in nats: less than 0 where the sound rather rises or falls.</summary>
    /// <param name="power">The note's harmonics.</param>
    /// <param name="moment">Where the gap ends that explains most there: one at which <see cref="OfStroke"/> tells anything.</param>
    public static (double Fall, double Rise) EdgesOfStroke(OwnHarmonics power, int moment)
    {
        Gap gap = GapsAt(power, moment).MaxBy(each => Stroke(power, each));
        return (-Rise(power, gap.From, gap.Fall, gap.Rise), Rise(power, gap.Fall, gap.Rise, gap.To));
    }

    /// <summary>The gaps that may end at a moment, each with the sound beside it.</summary>
    private static IEnumerable<Gap> GapsAt(OwnHarmonics power, int moment) => moment > power.Count - LeastSteps
        ? []
        : _gaps.Select(seconds => moment - (int)(seconds / OwnHarmonics.StepSeconds)).Where(fall => fall >= LeastSteps)
            .Select(fall => new Gap(Math.Max(0, fall - BesideSteps), fall, moment, Math.Min(power.Count, moment + BesideSteps)));

    /// <summary>What a rise at a moment explains; less than 0 where it rather is a fall.</summary>
    private static double Rise(OwnHarmonics power, int from, int at, int to)
    {
        double sum = 0;
        for (int k = 0; k < power.Harmonics; k++)
        {
            double before = power.Mean(k, from, at);
            double after = power.Mean(k, at, to);
            double explained = ((to - from) * Math.Log(power.Mean(k, from, to))) - ((at - from) * Math.Log(before)) - ((to - at) * Math.Log(after));
            sum += after > before ? explained : -explained;
        }

        return sum / power.WindowSteps;
    }

    private static double Stroke(OwnHarmonics power, Gap stroke)
    {
        (int from, int fall, int rise, int to) = stroke;
        double sum = 0;
        for (int k = 0; k < power.Harmonics; k++)
        {
            double before = power.Mean(k, from, fall);
            double gap = power.Mean(k, fall, rise);
            double after = power.Mean(k, rise, to);
            double explained = ((to - from) * Math.Log(power.Mean(k, from, to))) - ((fall - from) * Math.Log(before))
                - ((rise - fall) * Math.Log(gap)) - ((to - rise) * Math.Log(after));
            int sides = (gap < before ? 1 : 0) + (gap < after ? 1 : 0);
            sum += sides == 2 ? explained : sides == 0 ? -explained : 0;
        }

        return sum / power.WindowSteps;
    }

    /// <summary>A gap between two sounds, in steps: where the first is looked at from, where it falls, where the other rises, and to where that is looked at.</summary>
    private readonly record struct Gap(int From, int Fall, int Rise, int To);
}
