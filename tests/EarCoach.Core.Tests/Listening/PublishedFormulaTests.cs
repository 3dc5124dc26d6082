using System.Numerics;
using EarCoach.Core.Listening;
using EarCoach.Core.Tracing;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Listening;

/// <summary>What is computed by Fourier transforms, against the published definitions written out sum by sum.</summary>
public sealed class PublishedFormulaTests
{
    private const int RateHz = 11_025;
    private const int Window = 600;
    private const int LongestLag = 300;

    public static TheoryData<string> Signals => ["sine", "missing fundamental", "two tones", "vibrato", "swelling", "noise", "step"];

    public static TheoryData<string> BandLimited => ["sine", "missing fundamental", "two tones", "vibrato", "swelling"];

    // McLeod and Wyvill (2005), "A smarter way to find pitch", equations 3 to 6: n'(tau) = 2 r'(tau) / m'(tau) over the samples that both have.
    [Theory]
    [MemberData(nameof(Signals))]
    public void Likeness_IsTheNormalisedSquareDifferenceOfMcLeodAndWyvill(string signal)
    {
        float[] x = Signal(signal, Window, RateHz);
        float[] values = Computed(x);
        for (int tau = 0; tau <= LongestLag; tau++)
        {
            double r = 0;
            double m = 0;
            for (int j = 0; j < Window - tau; j++)
            {
                r += (double)x[j] * x[j + tau];
                m += ((double)x[j] * x[j]) + ((double)x[j + tau] * x[j + tau]);
            }

            values[tau].Should().BeApproximately((float)(2 * r / m), 2e-4f, $"tau is {tau}");
        }
    }

    // de Cheveigne and Kawahara (2002), doi 10.1121/1.1458024, equation 6: d(tau) = sum of (x(j) - x(j + tau))^2, here over the samples that both
    // have; likeness is 1 - d(tau) / m'(tau), so that it is greatest where YIN's difference function is least.
    [Theory]
    [MemberData(nameof(Signals))]
    public void Likeness_IsOneMinusYinsDifferenceOverTheEnergy(string signal)
    {
        float[] x = Signal(signal, Window, RateHz);
        float[] values = Computed(x);
        for (int tau = 1; tau <= LongestLag; tau++)
        {
            double d = 0;
            double m = 0;
            for (int j = 0; j < Window - tau; j++)
            {
                d += Math.Pow(x[j] - x[j + tau], 2);
                m += ((double)x[j] * x[j]) + ((double)x[j + tau] * x[j + tau]);
            }

            values[tau].Should().BeApproximately((float)(1 - (d / m)), 2e-4f, $"tau is {tau}");
        }
    }

    // Boersma (1993), Proc. Inst. Phonetic Sciences 17, equations 7 to 9: the autocorrelation of the weighted window over that of the weights, each
    // as a share of its value at no shift. Half shifts: the same window sampled at twice the rate.
    [Theory]
    [MemberData(nameof(BandLimited))]
    public void TracedLikeness_IsTheAutocorrelationOfBoersma(string signal)
    {
        var similarity = new LaneSimilarity(RateHz, Window, LongestLag, lowestHz: 1);
        float[] x = Signal(signal, Window, RateHz);
        float[] lanes = new float[Window * LaneSimilarity.Lanes];
        x.CopyTo(lanes, Window * (LaneSimilarity.Lanes - 1));
        similarity.Analyze(lanes, Window);
        ReadOnlySpan<float> values = similarity.ValuesFrom(LaneSimilarity.Lanes - 1);

        double[] weights = [.. Enumerable.Range(0, 2 * Window).Select(i => 0.5 - (0.5 * Math.Cos(2 * Math.PI * (i + 1) / (2.0 * Window))))]; // centred alike
        float[] fine = Signal(signal, 2 * Window, 2 * RateHz);
        double[] weighted = [.. fine.Zip(weights, (s, w) => s * w)];
        for (int h = 0; h <= 2 * LongestLag; h++)
        {
            double expected = At(weighted, h) / At(weighted, 0) / (At(weights, h) / At(weights, 0));
            values[h * LaneSimilarity.Lanes].Should().BeApproximately((float)expected, 0.01f, $"the shift is {h / 2.0} samples");
        }
    }

    // Van Loan's definition of the discrete Fourier transform, sum by sum; every lane holds another sequence.
    [Theory]
    [InlineData(4)]
    [InlineData(8)]
    [InlineData(64)]
    [InlineData(256)]
    public void LaneFourier_IsTheDiscreteFourierTransform(int size)
    {
        var fourier = new LaneFourier(size);
        int lanes = Vector<float>.Count;
        float[] real = Tones.Noise(1, 1, size * lanes, seed: 1);
        float[] imaginary = Tones.Noise(1, 1, size * lanes, seed: 2);
        for (int n = 0; n < size; n++)
        {
            fourier.Real[n] = new Vector<float>(real.AsSpan(n * lanes));
            fourier.Imaginary[n] = new Vector<float>(imaginary.AsSpan(n * lanes));
        }

        fourier.Forward();

        double worst = 0;
        for (int lane = 0; lane < lanes; lane++)
        {
            for (int k = 0; k < size; k++)
            {
                Complex expected = Complex.Zero;
                for (int n = 0; n < size; n++)
                {
                    expected += new Complex(real[(n * lanes) + lane], imaginary[(n * lanes) + lane]) * Complex.FromPolarCoordinates(1, -2 * Math.PI * k * n / size);
                }

                worst = Math.Max(worst, (new Complex(fourier.Real[k][lane], fourier.Imaginary[k][lane]) - expected).Magnitude);
            }
        }

        worst.Should().BeLessThan(2e-6 * size);
    }

    private static float[] Computed(float[] x)
    {
        var difference = new NormalisedSquareDifference(Window, LongestLag);
        difference.Compute(x).Should().BeTrue();
        return difference.Values;
    }

    private static double At(double[] x, int shift) => Enumerable.Range(0, x.Length - shift).Sum(i => x[i] * x[i + shift]);

    private static float[] Signal(string name, int samples, int rateHz)
    {
        double seconds = (double)samples / rateHz;
        float[] signal = name switch
        {
            "sine" => Tones.Harmonic(220, seconds + 0.001, rateHz, 0.5),
            "missing fundamental" => Tones.Harmonic(110, seconds + 0.001, rateHz, 0, 0.3, 0.3, 0.2),
            "two tones" => Tones.Sampled(seconds + 0.001, rateHz, t => (0.3 * Math.Sin(2 * Math.PI * 200 * t)) + (0.2 * Math.Sin(2 * Math.PI * 317 * t))),
            "vibrato" => Tones.Sampled(seconds + 0.001, rateHz, t => 0.4 * Math.Sin((2 * Math.PI * 300 * t) + (0.8 * Math.Sin(2 * Math.PI * 6 * t)))),
            "swelling" => Tones.Sampled(seconds + 0.001, rateHz, t => 0.4 * (1 + (0.5 * Math.Sin(2 * Math.PI * 7 * t))) * Math.Sin(2 * Math.PI * 180 * t)),
            "noise" => Tones.Noise(0.5, seconds + 0.001, rateHz),
            _ => Tones.Sampled(seconds + 0.001, rateHz, t => t > 0.02 ? 0.7 : -0.1),
        };
        return signal[..samples];
    }
}
