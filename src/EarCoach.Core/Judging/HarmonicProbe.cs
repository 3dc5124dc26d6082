using System.Numerics;

namespace EarCoach.Core.Judging;

/// <summary>Measures one frequency in many windows of the same length (Hann's weights), several samples at once.</summary>
internal sealed class HarmonicProbe
{
    private readonly float[] _cosine;
    private readonly float[] _sine;

    /// <summary>Makes a probe.</summary>
    /// <param name="window">The weights of a window, an odd number.</param>
    /// <param name="cyclesPerSample">The frequency.</param>
    public HarmonicProbe(double[] window, double cyclesPerSample)
    {
        double turn = 2 * Math.PI * cyclesPerSample;
        int half = window.Length / 2;
        _cosine = [.. window.Select((w, i) => (float)(w * Math.Cos(turn * (i - half))))];
        _sine = [.. window.Select((w, i) => (float)(w * Math.Sin(turn * (i - half))))];
    }

    /// <summary>Power in one window; a sine of amplitude 1 has the square of half the window's length.</summary>
    public double PowerOf(ReadOnlySpan<float> samples) => PowerOf(AmplitudeOf(samples));

    /// <summary>Power of an amplitude.</summary>
    public static double PowerOf(Complex amplitude) => (amplitude.Real * amplitude.Real) + (amplitude.Imaginary * amplitude.Imaginary);

    /// <summary>Complex amplitude in one window, its phase at the window's centre; a sine of amplitude 1 has half the window's length.</summary>
    public Complex AmplitudeOf(ReadOnlySpan<float> samples) => new(SampleProduct.Of(samples, _cosine), -SampleProduct.Of(samples, _sine));
}
