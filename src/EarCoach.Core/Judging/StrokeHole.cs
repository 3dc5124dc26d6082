using System.Numerics;

namespace EarCoach.Core.Judging;

/// <summary>
/// The hole of one length that a tongue makes in a harmonic, as a short window sees it: a tone that breaks off, is away, and comes back as it was.
/// </summary>
/// <remarks>
/// A course is taken for a smooth one, bent at most, less a share of it that is away in the hole. In a room that share is the tone's own part: its
/// echo goes on through the hole. Model and course are fitted by least squares.
/// </remarks>
internal sealed class StrokeHole
{
    /// <summary>More never speaks for a hole.</summary>
    public const double Most = MostShare * MostGain;

    private const double RampSeconds = 0.01;        // in which a tone breaks off, or comes back
    private const double SideSeconds = 0.024;       // how much is looked at beside the hole
    private const double FineSeconds = 0.0005;
    private const double Floor = 0.002;             // what no model explains, as a share of the power
    private const double LeastShare = -0.5;
    private const double MostShare = 1.2;
    private const double MostGain = 1.5;
    private readonly double[][] _smooth;
    private readonly double[] _away;                // what of the hole no smooth course explains, as a unit vector
    private readonly double _awayLength;
    private readonly double _smoothAtCentre;        // what a smooth course takes for the hole, at its centre

    /// <summary>Makes a hole.</summary>
    /// <param name="seconds">How long nothing is heard.</param>
    /// <param name="windowSeconds">To either side: the window that harmonics are measured with.</param>
    /// <param name="stepSeconds">From one reading to the next.</param>
    public StrokeHole(double seconds, double windowSeconds, double stepSeconds)
    {
        Reach = (int)Math.Round(((seconds / 2) + RampSeconds + SideSeconds) / stepSeconds);
        int[] offsets = [.. Enumerable.Range(-Reach, (2 * Reach) + 1)];
        _smooth = LeastSquares.Polynomials([.. offsets.Select(o => o / (double)Reach)], degree: 2);

        int half = (int)(windowSeconds / FineSeconds);
        double[] window = HannWindow.Around(half);
        double total = window.Sum();
        double[] hole = [.. offsets.Select(o => Enumerable.Range(-half, window.Length)
            .Sum(i => window[i + half] * Depth((o * stepSeconds) + (i * FineSeconds), seconds)) / total)];
        double[] rest = [.. hole];
        foreach (double[] smooth in _smooth)
        {
            double common = LeastSquares.Dot(smooth, hole);
            rest = [.. rest.Zip(smooth, (a, b) => a - (common * b))];
        }

        _smoothAtCentre = hole[Reach] - rest[Reach];
        _awayLength = Math.Sqrt(LeastSquares.Dot(rest, rest));
        _away = [.. rest.Select(x => x / _awayLength)];
    }

    /// <summary>From the centre to the farthest reading that is looked at.</summary>
    public int Reach { get; }

    /// <summary>How much speaks for the hole at one place.</summary>
    /// <param name="tracks">The note's harmonics.</param>
    /// <param name="centre">The place, at least <see cref="Reach"/> from both ends.</param>
    /// <returns>The share of the tone that is away, times the logarithm of how much better that is than no hole, over all harmonics by weight.</returns>
    public double At(HarmonicTracks tracks, int centre)
    {
        double sum = 0;
        for (int k = 0; k < tracks.Weights.Length; k++)
        {
            ReadOnlySpan<Complex> course = tracks.Amplitudes[k].AsSpan(centre - Reach, (2 * Reach) + 1);
            double power = 0;
            foreach (Complex amplitude in course)
            {
                power += HarmonicProbe.PowerOf(amplitude);
            }

            double left = power;
            Complex middle = Complex.Zero;
            foreach (double[] smooth in _smooth)
            {
                Complex part = LeastSquares.Dot(smooth, course);
                left -= HarmonicProbe.PowerOf(part);
                middle += part * smooth[Reach];
            }

            Complex away = LeastSquares.Dot(_away, course);
            double floor = (Floor * power) + 1e-18;
            double without = Math.Max(0, left) + floor;
            double with = Math.Max(0, left - HarmonicProbe.PowerOf(away)) + floor;
            Complex gone = -away / _awayLength;
            Complex tone = middle + (gone * _smoothAtCentre);
            double share = (gone * Complex.Conjugate(tone)).Real / (HarmonicProbe.PowerOf(tone) + 1e-18);
            sum += tracks.Weights[k] * Math.Clamp(share, LeastShare, MostShare) * Math.Clamp(Math.Log(without / with), 0, MostGain);
        }

        return sum;
    }

    private static double Depth(double fromCentre, double seconds) =>
        Math.Clamp(((seconds / 2) + RampSeconds - Math.Abs(fromCentre)) / RampSeconds, 0, 1);
}
