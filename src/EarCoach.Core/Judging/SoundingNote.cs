using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Tells whether a note itself sounds already while another pitch is heard: then it did not crack.</summary>
/// <remarks>The tone of a reed may begin with a partial that is none of its harmonics; a period can be found that meets this and some of them.</remarks>
internal static class SoundingNote
{
    private const double LeastDb = -6;                 // of its later level
    private const double MiddleShare = 0.4;            // of a run, in which only it sounds
    private const double WindowShare = 0.35;           // of a run
    private const double LongestHalfWindowSeconds = 0.04;
    private const double LaterSeconds = 0.15;
    private const double HighestHz = 4000;
    private const int MostHarmonics = 14;
    private const int Moments = 6;

    /// <summary>Whether the note is there: those of its harmonics that neither the other pitch nor the one before has.</summary>
    /// <param name="sound">The region.</param>
    /// <param name="crack">The other pitch.</param>
    /// <param name="end">Where the note ends, on the clock of the analysed samples.</param>
    /// <param name="old">The pitch just before; null after silence.</param>
    /// <param name="midi">The note's pitch.</param>
    public static bool IsIn(RegionSound sound, CrackFinder.Crack crack, double end, double? old, double midi)
    {
        double rate = sound.AnalysisRateHz;
        double hz = EqualTemperament.HzOf(midi);
        double length = crack.End - crack.Start;
        double half = Math.Min(LongestHalfWindowSeconds, Math.Max(1.5 / hz, WindowShare * length / rate));
        List<double> own = OwnHarmonics.FrequenciesHz(hz, crack.Midi, Math.Min(MostHarmonics, (int)(HighestHz / hz)), 1 / half);
        own.RemoveAll(f => old is { } before && !OwnHarmonics.StandsApart(f, before, 1 / half));
        double later = crack.End + (half * rate);
        double last = Math.Min(end - (half * rate), later + (LaterSeconds * rate));
        if (own.Count == 0 || last <= later)
        {
            return false;
        }

        double[] window = HannWindow.Around((int)(half * rate));
        HarmonicProbe[] probes = [.. own.Select(f => new HarmonicProbe(window, f / rate))];
        float[] samples = new float[window.Length];
        double Power(double from, double to)
        {
            double sum = 0;
            for (int k = 0; k < Moments; k++)
            {
                sound.Samples.CopyTo((long)(from + ((to - from) * (k + 0.5) / Moments)) - (window.Length / 2), samples);
                sum += probes.Sum(probe => probe.PowerOf(samples));
            }

            return sum;
        }

        double beside = 0.5 * (1 - MiddleShare) * length;
        return 10 * Math.Log10(Power(crack.Start + beside, crack.End - beside) / (Power(later, last) + 1e-18)) > LeastDb;
    }
}
