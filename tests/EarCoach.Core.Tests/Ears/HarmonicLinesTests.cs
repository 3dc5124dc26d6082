using EarCoach.Core.Judging;
using EarCoach.Core.Tests.Listening;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>Harmonics of a note and what lies between them, on tones made by arithmetic.</summary>
public sealed class HarmonicLinesTests
{
    private const double At = 1;
    private const double Seconds = 0.1;
    private const double WindowSeconds = 0.03;
    private const double HannBins = 1.5; // equivalent noise bandwidth of a Hann window: Harris 1978, Proc. IEEE 66, 51-83, table 1
    private const double Noise = 0.005;

    // A high oboe in noise: the second harmonic far the strongest. The shorter a window, the more noise beside a weak harmonic: in one of 30 ms, of N
    // samples, noise of variance v has 4 v 1.5 / N of the power of a sine of amplitude 1.
    [Theory]
    [InlineData(74)]
    [InlineData(77)]
    [InlineData(84)]
    public void WhatLiesBetweenHarmonicsInNoise_IsThatOfWindowsOf30Milliseconds(int midi)
    {
        const double Strongest = 0.2;
        float[] tone = Tones.Harmonic(Tones.Hz(midi), Seconds, Playing.RateHz, [.. Enumerable.Range(1, 8).Select(k => k == 2 ? Strongest : 0.002)]);
        Playing playing = new Playing(3).Quarters(At + Seconds + 0.2, 60, 62).Noise(Noise, 0, 3).Add(tone, At);
        double between = double.NaN, weakDb = double.NaN;
        playing.HeardAs(Playing.Quarters(midi, 60, 62), closed: (sound, _) =>
        {
            HarmonicLines lines = HarmonicLines.Of(sound, new PathStep(Activity.Note, 0, 0, sound.FrameAt(At), sound.FrameAt(At + Seconds)), Tones.Hz(midi))!;
            between = Enumerable.Range(1, lines.Highest).Average(k => lines.BackgroundDb(k, lines.Power(2)));
            weakDb = HarmonicLines.Db(lines.Power(1), lines.Power(2));
        });
        double variance = Noise * Noise / 3; // of what lies evenly between plus and minus Noise
        double expected = 10 * Math.Log10(4 * variance * HannBins / (WindowSeconds * Playing.RateHz) / (Strongest * Strongest));
        between.Should().BeApproximately(expected, 2);
        weakDb.Should().BeApproximately(-40, 1.5);
    }
}
