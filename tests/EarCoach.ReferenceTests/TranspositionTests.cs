using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.ReferenceTests;

/// <summary>A recording played faster by a semitone's ratio, against the passage a semitone higher and faster by as much: the same verdicts.</summary>
public sealed class TranspositionTests
{
    private const int HalfLength = 24; // of the interpolating kernel, in samples
    private const int Phases = 1024;       // between two samples
    private static readonly double _semitone = Math.Pow(2, 1.0 / 12); // equal temperament

    // Time limits stretch with the recording: a deviation of 70 ms becomes 70 / 1.0595 = 66.07 ms.
    [Theory]
    [InlineData("horn-valley-call", 1)]
    [InlineData("clarinet-mill-wheel", 1)]
    [InlineData("flute-ferry-dance", -1)]
    public void RecordingMovedBySemitone_GetsTheSameVerdicts(string name, int semitones)
    {
        Passage passage = Places.PassageOf(name);
        Sound sound = Sound.Read(Path.Combine(Places.Repository, "reference-audio", name + ".wav"));
        double ratio = Math.Pow(_semitone, semitones);

        string[] before = [.. Judge(passage, sound, 70)];
        string[] after = [.. Judge(Moved(passage, semitones, ratio), Resampled(sound, ratio), 70 / ratio)];

        before.Should().HaveCountGreaterThan(4);
        after.Should().Equal(before);
    }

    // A sine of 1000 Hz, read faster by a semitone, is one of 1059.46 Hz of the same amplitude.
    [Fact]
    public void Resampled_Sine_IsASemitoneHigher()
    {
        float[] sine = [.. Enumerable.Range(0, 32_000).Select(i => 0.5f * MathF.Sin((float)(2 * Math.PI * (1000.0 * i / 32_000 % 1))))];
        float[] moved = Resampled(new Sound(sine, 32_000), _semitone).Samples;
        double turn = 2 * Math.PI * 1000 * _semitone / 32_000;
        for (int i = 100; i < moved.Length - 100; i++)
        {
            Math.Abs(moved[i] - (0.5 * Math.Sin(turn * i))).Should().BeLessThan(0.001, $"sample {i}");
        }
    }

    private static Passage Moved(Passage passage, int semitones, double ratio) => passage with
    {
        Notes = [.. passage.Notes.Select(n => n with { MidiPitch = n.MidiPitch + semitones })],
        Tempi = [.. passage.Tempi.Select(t => t with { QuartersPerMinute = t.QuartersPerMinute * ratio })],
    };

    private static IEnumerable<string> Judge(Passage passage, Sound sound, double onsetMs) =>
        sound.JudgedAs(passage, new Tolerances { Cents = 30, OnsetMs = onsetMs }).Select(attempt =>
            $"{attempt.Verdict}: " + string.Join(", ", attempt.Notes.Where(n => n.Faults.Length > 0).Select(n => $"{n.Index} {string.Join('+', n.Faults)}")));

    /// <summary>Reads a sound faster by a ratio: interpolation by a windowed sinc, low-passed where that would fold.</summary>
    private static Sound Resampled(Sound sound, double ratio)
    {
        float[][] kernels = [.. Enumerable.Range(0, Phases + 1).Select(phase => Kernel((double)phase / Phases, Math.Min(1, 1 / ratio)))];
        float[] padded = [.. new float[HalfLength], .. sound.Samples, .. new float[HalfLength + 1]];
        float[] moved = new float[(int)(sound.Samples.Length / ratio)];
        for (int i = 0; i < moved.Length; i++)
        {
            double place = i * ratio;
            int middle = (int)Math.Floor(place);
            float[] kernel = kernels[(int)Math.Round((place - middle) * Phases)];
            float sum = 0;
            for (int j = 0; j < kernel.Length; j++)
            {
                sum += kernel[j] * padded[middle + 1 + j];
            }

            moved[i] = sum;
        }

        return sound with { Samples = moved };
    }

    /// <summary>Weights of the samples from HalfLength - 1 before a place to HalfLength after it; the place lies <paramref name="past"/> samples past one.</summary>
    private static float[] Kernel(double past, double cutoff) =>
    [
        .. Enumerable.Range(1 - HalfLength, 2 * HalfLength).Select(j =>
        {
            double distance = past - j;
            double x = Math.PI * cutoff * distance;
            double sinc = Math.Abs(x) < 1e-9 ? 1 : Math.Sin(x) / x;
            return (float)(cutoff * sinc * (0.5 + (0.5 * Math.Cos(Math.PI * distance / HalfLength)))); // Hann
        }),
    ];
}
