namespace EarCoach.Core.Judging;

/// <summary>A straight line from due times to heard times: onset = Start + Stretch * due.</summary>
/// <param name="StartSeconds">Where the first note would be.</param>
/// <param name="Stretch">Heard time for each second of due time: above 1 is slower than asked.</param>
internal readonly record struct TempoLine(double StartSeconds, double Stretch)
{
    private const double StretchSpread = 0.06; // how far players stray from the asked tempo: common practice, a wide guess
    private const double Enough = 0.025;       // residual in seconds up to which an onset fully supports a line

    public double At(double dueSeconds) => StartSeconds + (Stretch * dueSeconds);

    /// <summary>
    /// Fits the line that most onsets agree on, so that a few displaced notes do not move it: the best of the lines through all pairs
    /// (after Theil 1950 and Rousseeuw 1984), then least squares over the onsets that agree with it.
    /// </summary>
    /// <param name="due">Due times in seconds.</param>
    /// <param name="heard">Heard onsets in seconds, as many.</param>
    /// <returns>Null with no onset; with one, the asked tempo through it.</returns>
    public static TempoLine? Fit(ReadOnlySpan<double> due, ReadOnlySpan<double> heard)
    {
        int n = due.Length;
        if (n == 0)
        {
            return null;
        }

        var best = new TempoLine(heard[0] - due[0], 1);
        double bestCost = double.PositiveInfinity;
        int stride = Math.Max(1, n / 40); // at most some 800 pairs, however long the passage
        for (int i = 0; i < n; i += stride)
        {
            Consider(new TempoLine(heard[i] - due[i], 1), due, heard, ref best, ref bestCost);
            for (int j = i + 1; j < n; j += stride)
            {
                double span = due[j] - due[i];
                if (span > 0.15)
                {
                    double stretch = (heard[j] - heard[i]) / span;
                    if (stretch is > 0.5 and < 2)
                    {
                        Consider(new TempoLine(heard[i] - (stretch * due[i]), stretch), due, heard, ref best, ref bestCost);
                    }
                }
            }
        }

        return Refine(best, due, heard);
    }

    private static void Consider(TempoLine line, ReadOnlySpan<double> due, ReadOnlySpan<double> heard, ref TempoLine best, ref double bestCost)
    {
        double off = (line.Stretch - 1) / StretchSpread;
        double cost = 0.25 * off * off;
        for (int k = 0; k < due.Length; k++)
        {
            double residual = Math.Abs(heard[k] - line.At(due[k])) / Enough;
            cost += residual < 1 ? 0.5 * residual * residual : Math.Min(residual - 0.5, 2 + (0.1 * residual));
        }

        if (cost < bestCost)
        {
            bestCost = cost;
            best = line;
        }
    }

    private static TempoLine Refine(TempoLine line, ReadOnlySpan<double> due, ReadOnlySpan<double> heard)
    {
        for (int pass = 0; pass < 2; pass++)
        {
            double w = 0, x = 0, y = 0, xx = 0, xy = 0;
            for (int k = 0; k < due.Length; k++)
            {
                if (Math.Abs(heard[k] - line.At(due[k])) <= 0.060)
                {
                    w++;
                    x += due[k];
                    y += heard[k];
                    xx += due[k] * due[k];
                    xy += due[k] * heard[k];
                }
            }

            double spread = (w * xx) - (x * x);
            if (w < 3 || spread < 0.05 * w)
            {
                return line;
            }

            double stretch = ((w * xy) - (x * y)) / spread;
            line = new TempoLine((y - (stretch * x)) / w, stretch);
        }

        return line;
    }
}
