namespace EarCoach.Core.Judging;

/// <summary>The harmonics of a supposed fundamental in a stretch of sound, and what lies between them. Each is measured once.</summary>
internal sealed class HarmonicLines
{
    private const double LeastPeriods = 3.8; // a Hann window of fewer does not tell a harmonic from what lies half-way to the next
    private const double Periods = 4;             // half a window has
    private const double LeastHalfSeconds = 0.015; // the shorter a window, the more noise beside a weak harmonic
    private const int MostWindows = 5;
    private const double HighestHz = 5000;
    private readonly StretchSpectrum _spectrum;
    private readonly double _fundamental;
    private readonly Dictionary<int, double> _power = []; // by half harmonics

    private HarmonicLines(StretchSpectrum spectrum, double fundamental, int highest)
    {
        _spectrum = spectrum;
        _fundamental = fundamental;
        Highest = highest;
    }

    /// <summary>The number of the highest harmonic that can be measured.</summary>
    public int Highest { get; }

    /// <summary>The lines of a step of a path; null where it is too short to tell them apart.</summary>
    public static HarmonicLines? Of(RegionSound sound, PathStep step, double fundamentalHz)
    {
        double rate = sound.AnalysisRateHz;
        double from = sound.AnalysisSampleOf(step.FirstFrame) + (0.02 * rate);
        double to = sound.AnalysisSampleOf(step.EndFrame - 1) - (0.01 * rate);
        int half = (int)Math.Min(Math.Max(Periods / fundamentalHz, LeastHalfSeconds) * rate, 0.5 * (to - from));
        if (2 * half * fundamentalHz < LeastPeriods * rate)
        {
            return null;
        }

        return new HarmonicLines(new StretchSpectrum(sound, from, to, half, MostWindows), fundamentalHz, (int)(Math.Min(HighestHz, 0.42 * rate) / fundamentalHz));
    }

    /// <summary>Mean power of a harmonic; 1 is a sine of amplitude 1.</summary>
    public double Power(int harmonic) => AtHalf(2 * harmonic);

    /// <summary>What lies half-way to the neighbours of a harmonic, against a power, in dB.</summary>
    public double BackgroundDb(int harmonic, double power) => 0.5 * (Db(AtHalf((2 * harmonic) - 1), power) + Db(AtHalf((2 * harmonic) + 1), power));

    /// <summary>A harmonic just before the stretch begins, against a power, in dB.</summary>
    public double BeforeDb(int harmonic, double power) => Db(_spectrum.PowerBefore(harmonic * _fundamental), power);

    /// <summary>Ratio of two powers in dB.</summary>
    public static double Db(double a, double b) => 10 * Math.Log10((a + 1e-16) / (b + 1e-16));

    private double AtHalf(int halves)
    {
        if (!_power.TryGetValue(halves, out double power))
        {
            power = _spectrum.MeanPower(0.5 * halves * _fundamental);
            _power.Add(halves, power);
        }

        return power;
    }
}
