using System.Globalization;
using CsCheck;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>The ear on tones made by arithmetic: six harmonics at the frequencies of equal temperament (A4 = 440 Hz, ISO 16:1975).</summary>
public sealed class EarTests
{
    private const int RateHz = 44_100;
    private static readonly int[] _pitches = [60, 64, 67, 65];

    private static readonly Passage _passage = new()
    {
        Title = "Four notes",
        Tempi = [new TempoMark(Fraction.Zero, 90)],
        Notes = [.. _pitches.Select((midi, i) => new PassageNote { MidiPitch = midi, Onset = i, Length = 1 })],
    };

    [Fact]
    public void Played_AsWritten_IsClean()
    {
        AttemptResult attempt = Hear(Play(_pitches), 512).Should().ContainSingle().Subject;
        attempt.Verdict.Should().Be(Verdict.Clean);
        attempt.Notes.Should().OnlyContain(n => Math.Abs(n.CentsOff!.Value) < 3);
        attempt.TempoQuartersPerMinute.Should().BeApproximately(90, 1);
    }

    [Theory]
    [InlineData(2)]
    [InlineData(-2)]
    [InlineData(12)]
    public void AnotherPitch_IsNeverTheRightOne(int semitones)
    {
        int[] played = [.. _pitches];
        played[2] += semitones;
        AttemptResult attempt = Hear(Play(played), 512).Should().ContainSingle().Subject;
        attempt.Verdict.Should().Be(Verdict.Missed);
        attempt.Notes[2].Faults.Should().Contain(NoteFault.WrongPitch);
        attempt.Notes.Where(n => n.Index != 2).Should().OnlyContain(n => n.Faults.Length == 0);
    }

    // What is not certainly beyond a limit is within it (ISO 14253-1): onsets are placed within 20 ms, and strict limits stay strict.
    [Theory]
    [InlineData(70, 80, false)]
    [InlineData(70, 100, true)]
    [InlineData(70, -80, false)]
    [InlineData(70, -100, true)]
    [InlineData(30, 35, false)]
    [InlineData(30, 55, true)]
    public void AnOnset_IsOutOfTime_WhereItIsCertainlyBeyondTheLimit(double limitMs, double offMs, bool isFault)
    {
        int[] pitches = [60, 62, 64, 65, 67, 65, 64, 62];
        var playing = new Playing(8);
        for (int i = 0; i < pitches.Length; i++)
        {
            playing.Note(pitches[i], 0.6 + (i * Playing.QuarterSeconds) + (i == 4 ? offMs / 1000 : 0), 0.4);
        }

        AttemptResult attempt = playing.HeardAs(Playing.Quarters(pitches), new Tolerances { OnsetMs = limitMs }).Should().ContainSingle().Which;
        attempt.Notes[4].MsOff.Should().BeApproximately(offMs, 8);
        attempt.Notes.SelectMany(note => note.Faults).Should().Equal(isFault ? [offMs < 0 ? NoteFault.Early : NoteFault.Late] : Array.Empty<NoteFault>());
    }

    [Fact]
    public void Verdicts_DoNotDependOnWhereTheStreamIsCut()
    {
        float[] sound = Play(_pitches);
        string expected = Describe(Hear(sound, 4_096));
        Gen.Int[1, 3_000].Sample(length => Describe(Hear(sound, length)) == expected, iter: 8);
    }

    [Theory]
    [InlineData(0.05f)]
    [InlineData(0.5f)]
    public void Verdicts_DoNotDependOnGain(float gain)
    {
        float[] sound = Play(_pitches);
        float[] softer = [.. sound.Select(x => x * gain)];
        Hear(softer, 1_024).Select(a => a.Verdict).Should().Equal(Hear(sound, 1_024).Select(a => a.Verdict));
    }

    [Fact]
    public void SilenceAndNoNumbers_AreNoAttempt()
    {
        Hear(new float[3 * RateHz], 1_000).Should().BeEmpty();
        Hear([.. Enumerable.Repeat(float.NaN, 2 * RateHz)], 1_000).Should().BeEmpty();
    }

    [Fact]
    public void WhenAVerdictIsOut_NothingIsUnderWay()
    {
        float[] sound = Play(_pitches);
        var ear = new Ear(RateHz, new JudgingTask(_passage, null, new Tolerances()));
        int verdicts = 0;
        for (int at = 0; at < sound.Length; at += 64)
        {
            ear.Hear(new AudioBlock(sound.AsSpan(at, Math.Min(64, sound.Length - at)), at));
            while (ear.TryTake(out _))
            {
                verdicts++;
                ear.Live.State.Should().Be(EarState.Ready);
            }
        }

        verdicts.Should().Be(1);
    }

    private static float[] Play(int[] pitches)
    {
        const double NoteSeconds = 60.0 / 90;
        var sound = new float[(int)((2.2 + (NoteSeconds * pitches.Length)) * RateHz)];
        uint noise = 12_345;
        for (int t = 0; t < sound.Length; t++)
        {
            noise = (noise * 1_664_525) + 1_013_904_223; // Numerical Recipes' generator, for a room that is not digitally silent
            sound[t] = ((noise >> 8) / 8_388_608f - 1) * 0.0003f;
            double at = ((double)t / RateHz) - 1;
            int note = (int)Math.Floor(at / NoteSeconds);
            if (note < 0 || note >= pitches.Length)
            {
                continue;
            }

            double within = at - (note * NoteSeconds);
            double level = Math.Clamp(Math.Min(within / 0.02, (NoteSeconds - 0.08 - within) / 0.03), 0, 1);
            double hz = 440 * Math.Pow(2, (pitches[note] - 69) / 12.0);
            for (int harmonic = 1; harmonic <= 6; harmonic++)
            {
                sound[t] += (float)(0.1 * level / harmonic * Math.Sin(2 * Math.PI * harmonic * hz * within));
            }
        }

        return sound;
    }

    private static List<AttemptResult> Hear(float[] sound, int blockLength)
    {
        var ear = new Ear(RateHz, new JudgingTask(_passage, null, new Tolerances()));
        for (int at = 0; at < sound.Length; at += blockLength)
        {
            ear.Hear(new AudioBlock(sound.AsSpan(at, Math.Min(blockLength, sound.Length - at)), at));
        }

        ear.Finish();
        var attempts = new List<AttemptResult>();
        while (ear.TryTake(out AttemptResult? attempt))
        {
            attempts.Add(attempt!);
        }

        return attempts;
    }

    private static string Describe(List<AttemptResult> attempts) => string.Join('\n', attempts.Select(a => string.Create(
        CultureInfo.InvariantCulture,
        $"{a.StartSeconds:R} {a.EndSeconds:R} {a.Verdict} {string.Join(' ', a.Notes.Select(n => $"{n.OnsetSeconds:R}/{n.HeardMidi:R}/{string.Join('+', n.Faults)}"))}")));
}
