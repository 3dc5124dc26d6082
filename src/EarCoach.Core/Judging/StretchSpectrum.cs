namespace EarCoach.Core.Judging;

/// <summary>Powers at chosen frequencies, averaged over the windows of a stretch of sound (Hann's weights).</summary>
internal sealed class StretchSpectrum
{
    private readonly List<double[]> _windows = [];
    private readonly double[] _before;
    private readonly double _rate;
    private readonly double _scale;

    /// <summary>Cuts a stretch into windows.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="from">Its beginning, on the clock of the analysed samples.</param>
    /// <param name="to">Its end; at least two halves later.</param>
    /// <param name="half">Half a window, in samples.</param>
    /// <param name="most">At most so many windows.</param>
    public StretchSpectrum(RegionSound sound, double from, double to, int half, int most)
    {
        _rate = sound.AnalysisRateHz;
        _scale = 1 / ((double)half * half);
        double room = to - from - (2 * half);
        int count = Math.Clamp(1 + (int)(room / half), 1, most);
        for (int k = 0; k < count; k++)
        {
            _windows.Add(Window(sound, (long)(from + half + (count == 1 ? 0.5 * room : k * room / (count - 1))), half));
        }

        _before = Window(sound, (long)(from - half - (0.04 * _rate)), half);
    }

    /// <summary>Mean power over the windows; 1 is a sine of amplitude 1.</summary>
    public double MeanPower(double hz)
    {
        double sum = 0;
        foreach (double[] window in _windows)
        {
            sum += Power(window, hz);
        }

        return sum / _windows.Count;
    }

    /// <summary>Power in the window that ends just before the stretch begins.</summary>
    public double PowerBefore(double hz) => Power(_before, hz);

    private static double[] Window(RegionSound sound, long centre, int half)
    {
        double[] window = HannWindow.Around(half);
        for (int i = 0; i < window.Length; i++)
        {
            window[i] *= sound.Samples[centre - half + i];
        }

        return window;
    }

    private double Power(double[] window, double hz)
    {
        // The recurrence of Goertzel (1958).
        double coefficient = 2 * Math.Cos(2 * Math.PI * hz / _rate);
        double s1 = 0;
        double s2 = 0;
        foreach (double x in window)
        {
            double s0 = x + (coefficient * s1) - s2;
            s2 = s1;
            s1 = s0;
        }

        return _scale * ((s1 * s1) + (s2 * s2) - (coefficient * s1 * s2));
    }
}
