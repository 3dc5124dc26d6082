using CsCheck;
using EarCoach.Core.Tests.Listening;
using EarCoach.Core.Tracing;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Tracing;

/// <summary>The tracer on sounds made by arithmetic.</summary>
public sealed class PitchTracerTests
{
    private const int RateHz = 44_100;
    private static readonly double[] _bright = [0.2, 0.15, 0.1, 0.08, 0.05, 0.03];

    // Equal temperament from a tuba's lowest E (MIDI 28, 41.2 Hz) to a piccolo's highest C (MIDI 108, 4186 Hz), A4 = 440 Hz (ISO 16:1975).
    [Theory]
    [InlineData(16_000)]
    [InlineData(22_050)]
    [InlineData(44_100)]
    [InlineData(48_000)]
    [InlineData(96_000)]
    [InlineData(192_000)]
    public void Tones_FromTubaToPiccolo_AreHeardToACentAtAnySampleRate(int rateHz)
    {
        foreach (int midi in new[] { 28, 33, 40, 47, 52, 60, 64, 69, 73, 79, 84, 89, 96, 101, 108 })
        {
            TracedFrame[] steady = Steady(Tones.Harmonic(Tones.Hz(midi), 0.6, rateHz, _bright), rateHz);
            double allowed = midi < 32 ? 0.035 : 0.01; // fewer than three periods of the lowest lie in the window
            steady.Should().OnlyContain(f => Math.Abs(f.Midi - midi) < allowed, $"MIDI {midi} sounds, sampled at {rateHz}");
        }
    }

    [Fact]
    public void PureSines_AreHeardAtTheirOwnOctave()
    {
        for (int midi = 28; midi <= 108; midi += 5)
        {
            Steady(Tones.Harmonic(Tones.Hz(midi), 0.6, RateHz, 0.3), RateHz).Should().OnlyContain(f => Math.Abs(f.Midi - midi) < (midi < 32 ? 0.06 : 0.01), $"MIDI {midi} sounds");
        }
    }

    // Arithmetic of the harmonic series: harmonic n lies 1200 log2 n cents above the first (the 3rd 1901.96, the 5th 2786.31, the 7th 3368.83).
    [Fact]
    public void HarmonicSeries_LiesWhereArithmeticPutsIt()
    {
        const double First = 58.27; // B flat 1, the first harmonic of a trombone in first position
        double first = Steady(Tones.Harmonic(First, 0.6, RateHz, _bright), RateHz).Average(f => f.Midi);
        for (int n = 2; n <= 16; n++)
        {
            double heard = Steady(Tones.Harmonic(n * First, 0.6, RateHz, _bright), RateHz).Average(f => f.Midi);
            (100 * (heard - first)).Should().BeApproximately(1200 * Math.Log2(n), 1, $"n is {n}");
        }
    }

    [Theory]
    [InlineData(0.0, 0.3, 0.3, 0.2)]       // what a laptop's microphone leaves of a low note
    [InlineData(0.0, 0.0, 0.3, 0.3, 0.2)]
    [InlineData(0.001, 0.3, 0.001, 0.3, 0.001, 0.15)]
    public void MissingFundamental_IsHeardAllTheSame(params double[] amplitudes)
    {
        double hz = amplitudes[2] == 0.001 ? 2 * 130.81 : 130.81; // all even harmonics alone are the tone an octave higher
        Steady(Tones.Harmonic(130.81, 0.6, RateHz, amplitudes), RateHz).Should().OnlyContain(f => Math.Abs(f.Midi - Tones.Midi(hz)) < 0.02);
    }

    // Common practice: vibrato of 5 to 8 Hz, some 25 to 50 cents to each side. The trace must follow it, and its middle be the note.
    [Theory]
    [InlineData(5, 25)]
    [InlineData(6.5, 50)]
    [InlineData(8, 30)]
    public void Vibrato_IsFollowed_AndItsMiddleIsTheNote(double swingHz, double swingCents)
    {
        TracedFrame[] steady = Steady(Tones.Vibrato(440, swingCents, 0.3, swingHz, 2, RateHz), RateHz);
        (100 * (steady.Average(f => f.Midi) - 69)).Should().BeApproximately(0, 3);
        double swing = 50 * (steady.Max(f => f.Midi) - steady.Min(f => f.Midi));
        swing.Should().BeInRange(0.6 * swingCents, 1.05 * swingCents, "the window smooths a swing, and adds nothing to it");
    }

    // A sine of amplitude a has the level 20 log10(a / sqrt 2).
    [Theory]
    [InlineData(1.0, -3.01)]
    [InlineData(0.5, -9.03)]
    [InlineData(0.01, -43.01)]
    public void Level_IsThatOfTheSine(double amplitude, float dbfs) =>
        Steady(Tones.Harmonic(441, 0.6, RateHz, amplitude), RateHz).Should().OnlyContain(f => Math.Abs(f.LevelDbfs - dbfs) < 0.1f && f.Voiced);

    [Fact]
    public void SilenceAndNoNumbers_HaveNoPitch()
    {
        foreach (float x in new[] { 0f, float.NaN, float.PositiveInfinity, float.NegativeInfinity })
        {
            Trace([.. Enumerable.Repeat(x, 48_000)], 48_000).Should().HaveCount(100).And.OnlyContain(f => !f.Voiced && f.LevelDbfs == -120);
        }
    }

    [Fact]
    public void Noise_HasHardlyEverAPitch()
    {
        TracedFrame[] traced = Trace(Tones.Noise(0.3, 10, RateHz), RateHz);
        traced.Count(f => f.Voiced).Should().BeLessThan(traced.Length / 50);
    }

    [Fact]
    public void NoNumbersWithinATone_HarmNothingElse()
    {
        float[] sound = Tones.Harmonic(220, 1, RateHz, _bright);
        sound[22_050] = float.NaN;
        sound[22_051] = float.PositiveInfinity;
        Steady(sound, RateHz).Should().OnlyContain(f => Math.Abs(f.Midi - 57) < 0.05f);
    }

    [Fact]
    public void Frames_DoNotDependOnWhereTheStreamIsCut()
    {
        float[] sound = Tones.Mix(Tones.Join(Tones.Vibrato(330, 30, 0.2, 6, 0.4, RateHz), Tones.Harmonic(98, 0.3, RateHz, _bright)), Tones.Noise(0.01, 1, RateHz));
        TracedFrame[] whole = Trace(sound, RateHz);
        Gen.Int[1, 6_000].Array[1, 40].Sample(cuts => Trace(sound, RateHz, cuts).AsSpan().SequenceEqual(whole), iter: 25);
    }

    [Theory]
    [InlineData(0.003f)]
    [InlineData(4f)]
    public void Pitch_DoesNotDependOnGain(float gain)
    {
        float[] sound = Tones.Vibrato(330, 30, 0.2, 6, 0.8, RateHz);
        float[] other = [.. sound.Select(x => x * gain)];
        Steady(other, RateHz).Zip(Steady(sound, RateHz)).Should().OnlyContain(p => Math.Abs(p.First.Midi - p.Second.Midi) < 0.002f);
    }

    [Fact]
    public void Reset_MakesItNew()
    {
        float[] sound = Tones.Harmonic(220, 0.5, RateHz, _bright);
        var tracer = new PitchTracer(new TracerOptions { SampleRateHz = RateHz });
        var frames = new TracedFrame[tracer.MaxFrames(sound.Length)];
        tracer.Process(Tones.Noise(0.5, 0.4, RateHz), frames);
        tracer.Reset();
        int count = tracer.Process(sound, frames);
        count += tracer.Finish(frames.AsSpan(count));
        frames[..count].Should().Equal(Trace(sound, RateHz));
    }

    [Fact]
    public void Process_AllocatesNothing()
    {
        float[] sound = Tones.Vibrato(330, 30, 0.2, 6, 1, RateHz);
        var tracer = new PitchTracer(new TracerOptions { SampleRateHz = RateHz });
        var frames = new TracedFrame[tracer.MaxFrames(1_000)];
        Hear();
        long before = GC.GetAllocatedBytesForCurrentThread();
        Hear();
        (GC.GetAllocatedBytesForCurrentThread() - before).Should().Be(0);

        void Hear()
        {
            for (int at = 0; at + 1_000 <= sound.Length; at += 1_000)
            {
                tracer.Process(sound.AsSpan(at, 1_000), frames);
            }
        }
    }

    [Fact]
    public void BrokenOptions_AreNamed()
    {
        Action make = () => _ = new PitchTracer(new TracerOptions { SampleRateHz = 8_000, LowestPitchHz = 5, HopMs = 0 });
        make.Should().Throw<ArgumentException>().WithMessage("*SampleRateHz is 8000*LowestPitchHz is 5*HopMs is 0*");
    }

    /// <summary>The frames whose windows lie within the sound.</summary>
    private static TracedFrame[] Steady(float[] sound, int rateHz)
    {
        TracedFrame[] steady = [.. Trace(sound, rateHz).Where(f => f.CentreSample > 0.1 * rateHz && f.CentreSample < sound.Length - (0.1 * rateHz))];
        steady.Should().HaveCountGreaterThan(30);
        return steady;
    }

    private static TracedFrame[] Trace(float[] sound, int rateHz, params int[] cuts)
    {
        var tracer = new PitchTracer(new TracerOptions { SampleRateHz = rateHz });
        var frames = new TracedFrame[tracer.MaxFrames(sound.Length) + tracer.MaxFrames(0)];
        int count = 0;
        int at = 0;
        for (int k = 0; at < sound.Length; k++)
        {
            int take = cuts.Length == 0 ? sound.Length : Math.Min(cuts[k % cuts.Length], sound.Length - at);
            count += tracer.Process(sound.AsSpan(at, take), frames.AsSpan(count));
            at += take;
        }

        count += tracer.Finish(frames.AsSpan(count));
        return frames[..count];
    }
}
