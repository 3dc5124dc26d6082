using CsCheck;
using EarCoach.Core.Tests.Listening;
using EarCoach.Core.Tracing;
using EarCoach.Core.Transcription;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Transcription;

/// <summary>Notes without a score, on sounds made by arithmetic.</summary>
public sealed class NoteTracerTests
{
    private const int RateHz = 44_100;
    private const double OnsetWindowSeconds = 0.050; // MIREX onset detection: within 50 ms, limit included
    private static readonly double[] _bright = [0.2, 0.15, 0.1, 0.08, 0.05, 0.03];

    public static TheoryData<double> Lengths => [0.12, 0.25, 0.5];

    [Theory]
    [MemberData(nameof(Lengths))]
    public void TonguedScale_IsHeardNoteByNote(double seconds)
    {
        int[] pitches = [60, 62, 64, 65, 67, 69, 71, 72];
        CheckNotes(Hear(Played(pitches, seconds, gapSeconds: 0.04)), pitches, seconds, slurred: false);
    }

    [Theory]
    [MemberData(nameof(Lengths))]
    public void NotesStruckAgain_AreToldApart(double seconds)
    {
        int[] pitches = [67, 67, 67, 67];
        CheckNotes(Hear(Played(pitches, seconds, gapSeconds: 0.04)), pitches, seconds, slurred: false);
    }

    // The tone falls by 20 log10(0.15) = -16.5 dB and comes back, and never stops.
    [Theory]
    [MemberData(nameof(Lengths))]
    public void NotesStruckAgainWithoutSilence_AreToldApart(double seconds)
    {
        int[] pitches = [67, 67, 67, 67];
        CheckNotes(Hear(Played(pitches, seconds, gapSeconds: 0.04, floor: 0.15)), pitches, seconds, slurred: false);
    }

    [Theory]
    [MemberData(nameof(Lengths))]
    public void SlurredNotes_AreToldApartByPitch(double seconds)
    {
        int[] pitches = [60, 62, 64, 60, 67, 66];
        CheckNotes(Hear(Played(pitches, seconds, gapSeconds: 0)), pitches, seconds, slurred: true);
    }

    // Common practice: vibrato of 5 to 8 Hz, up to 50 cents to each side on strings, is one note.
    [Theory]
    [InlineData(5, 50)]
    [InlineData(8, 30)]
    public void Vibrato_IsOneNote(double swingHz, double swingCents)
    {
        List<HeardNote> heard = Hear(Framed(Tones.Vibrato(440, swingCents, 0.2, swingHz, 1.5, RateHz)));
        HeardNote note = heard.Should().ContainSingle(string.Join(' ', heard)).Subject;
        (100 * (note.Midi - 69)).Should().BeApproximately(0, 8);
    }

    [Fact]
    public void DetunedNote_HasItsCents()
    {
        HeardNote note = Hear(Framed(Tones.Harmonic(Tones.Hz(64.23), 0.5, RateHz, _bright))).Should().ContainSingle().Subject;
        note.NearestMidi.Should().Be(64);
        note.Cents.Should().BeApproximately(23, 1);
    }

    [Fact]
    public void SilenceNoiseAndNoNumbers_AreNoNotes()
    {
        Hear(new float[2 * RateHz]).Should().BeEmpty();
        Hear([.. Enumerable.Repeat(float.NaN, RateHz)]).Should().BeEmpty();
        Hear(Framed(Tones.Noise(0.3, 3, RateHz))).Should().BeEmpty();
    }

    [Fact]
    public void Notes_DoNotDependOnWhereTheStreamIsCut()
    {
        float[] sound = Tones.Mix(Played([60, 64, 64, 67], 0.2, gapSeconds: 0.03), Tones.Noise(0.002, 1, RateHz));
        List<HeardNote> whole = Hear(sound);
        whole.Should().NotBeEmpty();
        Gen.Int[1, 6_000].Array[1, 40].Sample(cuts => Hear(sound, cuts).SequenceEqual(whole), iter: 10);
    }

    [Theory]
    [InlineData(0.01f)]
    [InlineData(3f)]
    public void Notes_DoNotDependOnGain(float gain)
    {
        float[] sound = Played([60, 64, 64, 67], 0.2, gapSeconds: 0.03);
        Hear([.. sound.Select(x => x * gain)]).Select(n => (n.NearestMidi, n.Slurred)).Should().Equal(Hear(sound).Select(n => (n.NearestMidi, n.Slurred)));
    }

    [Fact]
    public void Process_AllocatesNothing()
    {
        float[] sound = Played([60, 62, 62, 64], 0.2, gapSeconds: 0.04);
        var tracer = new NoteTracer(new TracerOptions { SampleRateHz = RateHz });
        var notes = new HeardNote[tracer.MaxNotes(1_000)];
        HearAll();
        long before = GC.GetAllocatedBytesForCurrentThread();
        HearAll();
        (GC.GetAllocatedBytesForCurrentThread() - before).Should().Be(0);

        void HearAll()
        {
            for (int at = 0; at + 1_000 <= sound.Length; at += 1_000)
            {
                tracer.Process(sound.AsSpan(at, 1_000), notes);
            }
        }
    }

    private static void CheckNotes(List<HeardNote> heard, int[] pitches, double seconds, bool slurred)
    {
        heard.Select(n => n.NearestMidi).Should().Equal(pitches);
        for (int i = 0; i < pitches.Length; i++)
        {
            double onset = (double)heard[i].OnsetSample / RateHz;
            onset.Should().BeInRange(0.5 + (i * seconds) - OnsetWindowSeconds, 0.5 + (i * seconds) + OnsetWindowSeconds, $"note {i}");
            heard[i].Slurred.Should().Be(slurred && i > 0, $"note {i}");
            heard[i].Cents.Should().BeApproximately(0, 3, $"note {i}");
        }
    }

    /// <summary>Notes one after the other, each with a gap before the next; half a second of silence on both sides.</summary>
    private static float[] Played(int[] pitches, double seconds, double gapSeconds, double floor = 0)
    {
        float[] sound = new float[(int)((1 + (seconds * pitches.Length)) * RateHz)];
        double phase = 0;
        for (int i = 0; i < sound.Length; i++)
        {
            double at = ((double)i / RateHz) - 0.5;
            int note = (int)Math.Floor(at / seconds);
            if (note < 0 || note >= pitches.Length)
            {
                continue;
            }

            double within = at - (note * seconds);
            bool first = note == 0 || gapSeconds > 0;
            bool outside = (note == 0 && within < 0.02) || (note == pitches.Length - 1 && within > seconds / 2);
            bool last = note == pitches.Length - 1 || gapSeconds > 0;
            double level = Math.Clamp(Math.Min(first ? within / 0.01 : 1, last ? (seconds - gapSeconds - within) / 0.01 : 1), outside ? 0 : floor, 1);
            phase += 2 * Math.PI * Tones.Hz(pitches[note]) / RateHz;
            sound[i] = (float)(level * _bright.Select((a, k) => a * Math.Sin((k + 1) * phase)).Sum());
        }

        return sound;
    }

    private static float[] Framed(float[] sound) => Tones.Join(new float[RateHz / 2], sound, new float[RateHz / 2]);

    private static List<HeardNote> Hear(float[] sound, params int[] cuts)
    {
        var tracer = new NoteTracer(new TracerOptions { SampleRateHz = RateHz });
        var notes = new HeardNote[tracer.MaxNotes(sound.Length)];
        var heard = new List<HeardNote>();
        int at = 0;
        for (int k = 0; at < sound.Length; k++)
        {
            int take = cuts.Length == 0 ? sound.Length : Math.Min(cuts[k % cuts.Length], sound.Length - at);
            heard.AddRange(notes[..tracer.Process(sound.AsSpan(at, take), notes)]);
            at += take;
        }

        heard.AddRange(notes[..tracer.Finish(notes)]);
        return heard;
    }
}
