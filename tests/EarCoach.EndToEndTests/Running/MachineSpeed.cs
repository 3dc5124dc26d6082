using System.Diagnostics;
using System.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace EarCoach.EndToEndTests.Running;

/// <summary>How fast the machine is, by work that is not the program's: times in milliseconds are asked for on one that is not slow.</summary>
internal static class MachineSpeed
{
    private const int Length = 1 << 15;
    private const int Times = 15;
    private const double NotSlowMs = 6; // one transform; our choice: the slowest machine seen takes 9 to 12, and shows verdicts after 0.44 to 0.52 s for 0.34 elsewhere

    /// <summary>How long one transform takes, in milliseconds.</summary>
    public static Spread TransformTimes()
    {
        var random = new Random(1);
        Complex[] signal = [.. Enumerable.Range(0, Length).Select(_ => new Complex(random.NextDouble(), 0))];
        double[] took = new double[Times];
        for (int i = 0; i < Times; i++)
        {
            long began = Stopwatch.GetTimestamp();
            Fourier.Forward(signal);
            took[i] = Stopwatch.GetElapsedTime(began).TotalMilliseconds;
        }

        return new Spread(took);
    }

    /// <summary>How many times as long as on a machine that is not slow that is; at least 1.</summary>
    public static double SlownessOf(Spread transformTimes) => Math.Max(1, transformTimes.At(0.5) / NotSlowMs);
}
