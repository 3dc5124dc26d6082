using System.Numerics;

namespace EarCoach.Core.Judging;

/// <summary>A stretch of one harmonic.</summary>
/// <param name="Mean">Its mean amplitude, with its phase.</param>
/// <param name="Power">Its mean power.</param>
internal readonly record struct TonePart(Complex Mean, double Power)
{
    /// <summary>Power of the mean: what stands still.</summary>
    public double Coherent => HarmonicProbe.PowerOf(Mean);

    /// <summary>Measures a stretch.</summary>
    /// <param name="course">Its amplitudes; at least one.</param>
    public static TonePart Of(ReadOnlySpan<Complex> course)
    {
        Complex sum = Complex.Zero;
        double power = 0;
        foreach (Complex amplitude in course)
        {
            sum += amplitude;
            power += HarmonicProbe.PowerOf(amplitude);
        }

        return new TonePart(sum / course.Length, power / course.Length);
    }

    /// <summary>How much of this stretch is there in another amplitude, with its phase: 1 all of it, 0 nothing; from -1 to 1.5.</summary>
    public double ShareIn(Complex amplitude) =>
        Math.Clamp((amplitude * Complex.Conjugate(Mean)).Real / (Coherent + 1e-18), -1, 1.5);
}
