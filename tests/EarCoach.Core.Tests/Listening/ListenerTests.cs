using CsCheck;
using EarCoach.Core.Listening;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Listening;

/// <summary>The listener that the judge hears by, on sounds made by arithmetic.</summary>
public sealed class ListenerTests
{
    private const int RateHz = 44_100;
    private static readonly double[] _bright = [0.2, 0.15, 0.1, 0.08, 0.05, 0.03];

    // Equal temperament from a tuba's lowest E (MIDI 28) to a piccolo's highest C (MIDI 108), A4 = 440 Hz (ISO 16:1975); each heard in the range of an
    // instrument that reaches a fifth to both sides.
    [Theory]
    [InlineData(16_000)]
    [InlineData(32_000)]
    [InlineData(44_100)]
    [InlineData(48_000)]
    [InlineData(96_000)]
    [InlineData(192_000)]
    public void Tones_FromTubaToPiccolo_AreHeardTheSameAtAnySampleRate(int rateHz)
    {
        foreach (int midi in new[] { 28, 35, 45, 55, 62, 69, 76, 83, 90, 97, 104, 108 }.Where(m => Tones.Hz(m) < rateHz / 6.0)) // six samples in a period
        {
            HeardFrame[] steady = Steady(Tones.Harmonic(Tones.Hz(midi), 0.6, rateHz, _bright), rateHz, midi - 7, midi + 7);
            steady.Should().OnlyContain(f => Math.Abs(f.Midi - midi) < 0.02f, $"MIDI {midi} sounds, sampled at {rateHz}; 2 cents are allowed");
        }
    }

    // Arithmetic of the harmonic series: harmonic n lies 1200 log2 n cents above the first.
    [Fact]
    public void HarmonicSeries_LiesWhereArithmeticPutsIt()
    {
        double first = Steady(Tones.Harmonic(87.31, 0.6, RateHz, _bright), RateHz, 30, 96).Average(f => f.Midi);
        for (int n = 2; n <= 12; n++)
        {
            double heard = Steady(Tones.Harmonic(n * 87.31, 0.6, RateHz, _bright), RateHz, 30, 96).Average(f => f.Midi);
            (100 * (heard - first)).Should().BeApproximately(1200 * Math.Log2(n), 1, $"n is {n}");
        }
    }

    [Theory]
    [InlineData(0.0, 0.3, 0.3, 0.2)]
    [InlineData(0.0, 0.0, 0.3, 0.3, 0.2)]
    public void MissingFundamental_IsHeardAllTheSame(params double[] amplitudes) =>
        Steady(Tones.Harmonic(Tones.Hz(48), 0.6, RateHz, amplitudes), RateHz, 36, 84).Should().OnlyContain(f => Math.Abs(f.Midi - 48) < 0.02f);

    // A frame's window of a few periods averages a swing: the middle of all frames is the note, and no frame lies outside the swing.
    [Theory]
    [InlineData(5, 50)]
    [InlineData(8, 30)]
    public void Vibrato_SwingsAboutTheNote(double swingHz, double swingCents)
    {
        HeardFrame[] steady = Steady(Tones.Vibrato(440, swingCents, 0.3, swingHz, 2, RateHz), RateHz, 57, 81);
        (100 * (steady.Average(f => f.Midi) - 69)).Should().BeApproximately(0, 3);
        steady.Should().OnlyContain(f => Math.Abs(f.Midi - 69) < (1.05 * swingCents) / 100);
    }

    [Fact]
    public void SilenceAndNoNumbers_HaveNoCandidates()
    {
        foreach (float x in new[] { 0f, float.NaN, float.PositiveInfinity, float.NegativeInfinity })
        {
            Hear([.. Enumerable.Repeat(x, RateHz / 2)], RateHz, 36, 84).Should().NotBeEmpty().And.OnlyContain(f => f.CandidateCount == 0 && f.LevelDbfs == -120);
        }
    }

    // White noise repeats nothing: hardly a frame may look as clear as a tone in 15 dB of noise, which repeats 1 - 10^-1.5 = 0.97 of itself.
    [Fact]
    public void Noise_IsNeverClear()
    {
        HeardFrame[] frames = Hear(Tones.Noise(0.3, 5, RateHz), RateHz, 36, 84);
        frames.Count(f => f.Clarity > 0.75f).Should().BeLessThan(frames.Length / 100);
        frames.Should().OnlyContain(f => f.CandidateCount == 0 || float.IsFinite(f.Midi));
    }

    [Fact]
    public void Frames_DoNotDependOnWhereTheStreamIsCut()
    {
        float[] sound = Tones.Mix(Tones.Join(Tones.Vibrato(330, 30, 0.2, 6, 0.3, RateHz), Tones.Harmonic(98, 0.2, RateHz, _bright)), Tones.Noise(0.01, 0.6, RateHz));
        string[] whole = [.. Hear(sound, RateHz, 40, 84).Select(Describe)];
        Gen.Int[1, 5_000].Array[1, 40].Sample(cuts => Hear(sound, RateHz, 40, 84, cuts).Select(Describe).SequenceEqual(whole), iter: 15);
    }

    [Fact]
    public void Reset_MakesItNew()
    {
        float[] sound = Tones.Harmonic(220, 0.3, RateHz, _bright);
        var listener = new Listener(Options(RateHz, 40, 84));
        var frames = new HeardFrame[listener.MaxFrames(sound.Length)];
        listener.Process(new AudioBlock(Tones.Noise(0.5, 0.3, RateHz), 0), frames);
        listener.Reset();
        int count = listener.Process(new AudioBlock(sound, 0), frames);
        frames[..count].Select(Describe).Should().Equal(Hear(sound, RateHz, 40, 84).Select(Describe));
    }

    [Fact]
    public void Process_AllocatesNothing()
    {
        float[] sound = Tones.Mix(Tones.Vibrato(330, 30, 0.2, 6, 1, RateHz), Tones.Noise(0.02, 1, RateHz));
        var listener = new Listener(Options(RateHz, 40, 84));
        var frames = new HeardFrame[listener.MaxFrames(1_000)];
        var samples = new AnalysisSamples(8_192);
        HearAll();
        long before = GC.GetAllocatedBytesForCurrentThread();
        HearAll();
        (GC.GetAllocatedBytesForCurrentThread() - before).Should().Be(0);

        void HearAll()
        {
            for (int at = 0; at + 1_000 <= sound.Length; at += 1_000)
            {
                listener.Process(new AudioBlock(sound.AsSpan(at, 1_000), at), frames, samples);
            }
        }
    }

    private static ListenerOptions Options(int rateHz, double lowestMidi, double highestMidi) => new()
    {
        SampleRateHz = rateHz,
        LowestPitchHz = Tones.Hz(lowestMidi),
        LikelyLowestPitchHz = Tones.Hz(lowestMidi),
        HighestPitchHz = Math.Min(Tones.Hz(highestMidi), rateHz / 3.2),
    };

    private static HeardFrame[] Steady(float[] sound, int rateHz, double lowestMidi, double highestMidi)
    {
        HeardFrame[] steady = [.. Hear(sound, rateHz, lowestMidi, highestMidi).Where(f => f.CentreSample > 0.15 * rateHz && f.CentreSample < sound.Length - (0.15 * rateHz))];
        steady.Should().HaveCountGreaterThan(30);
        return steady;
    }

    private static HeardFrame[] Hear(float[] sound, int rateHz, double lowestMidi, double highestMidi, params int[] cuts)
    {
        var listener = new Listener(Options(rateHz, lowestMidi, highestMidi));
        var frames = new HeardFrame[listener.MaxFrames(sound.Length) + (cuts.Length == 0 ? 0 : 2 * sound.Length / cuts.Min())];
        int count = 0;
        int at = 0;
        for (int k = 0; at < sound.Length; k++)
        {
            int take = cuts.Length == 0 ? sound.Length : Math.Min(cuts[k % cuts.Length], sound.Length - at);
            count += listener.Process(new AudioBlock(sound.AsSpan(at, take), at), frames.AsSpan(count));
            at += take;
        }

        return frames[..count];
    }

    private static string Describe(HeardFrame frame)
    {
        string candidates = string.Join(' ', Enumerable.Range(0, frame.CandidateCount).Select(i => frame.Candidates[i]));
        return $"{frame.CentreSample} {frame.LevelDbfs:R} {frame.FloorDbfs:R} {candidates}";
    }
}
