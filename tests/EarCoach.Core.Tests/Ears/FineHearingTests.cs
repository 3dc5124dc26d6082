using System.Collections.Immutable;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>
/// What is easily misheard, on tones made by arithmetic: timbres near the octave, strokes of the tongue and what only looks like one, the
/// ring of a room, pitches near the limit.
/// </summary>
public sealed class FineHearingTests
{
    private const int RateHz = 44_100;
    private const double NoteSeconds = 0.6;
    private static readonly double[] _full = [1, 0.5, 0.33, 0.25, 0.2, 0.17];

    // Strong second harmonic, the odd ones 30 dB and more below it: a real oboe's F#5 sounds so.
    private static readonly double[] _nearlyTheOctave = [0.032, 1, 0.01, 0.03, 0.012, 0.02];
    private static readonly int[] _pitches = [62, 66, 64, 69];

    [Fact]
    public void WeakOddHarmonics_AreStillThatNote() =>
        Judge(Play((_, _) => 1, _nearlyTheOctave, _pitches)).Verdict.Should().Be(Verdict.Clean);

    [Theory]
    [InlineData(12)]
    [InlineData(19)]
    [InlineData(-12)]
    [InlineData(-19)]
    public void AnOctaveOrTwelfthOff_IsAnotherPitch(int semitones)
    {
        int[] played = [.. _pitches];
        played[2] += semitones;
        AttemptResult attempt = Judge(Play((_, _) => 1, _full, played));
        attempt.Notes[2].Faults.Should().Contain(NoteFault.WrongPitch);
        attempt.Notes[2].HeardMidi.Should().BeApproximately(_pitches[2] + semitones, 0.1);
    }

    // Common practice: an overblown note may begin in the lower octave before it breaks to the higher one. Its pitch is what most of it has.
    [Theory]
    [InlineData(0.12)]
    [InlineData(0.2)]
    public void ANoteThatBreaksToTheOctave_IsAnotherPitch(double lowSeconds)
    {
        AttemptResult attempt = Judge(Play((_, _) => 1, _full, _pitches, turn: (note, at) => note == 2 ? 2 * Math.PI * Hz(_pitches[2]) * Math.Max(0, at - lowSeconds) : 0));
        attempt.Notes[2].Faults.Should().Contain(NoteFault.WrongPitch);
        attempt.Notes[2].HeardMidi.Should().BeApproximately(_pitches[2] + 12, 0.1);
        attempt.Notes.Where(note => note.Index != 2).Should().OnlyContain(note => note.Faults.IsEmpty);
    }

    // A low reed may sound the harmonics of the octave below too, 9 dB under its strongest: it is no octave off until they are loud.
    [Theory]
    [InlineData(-9, Verdict.Clean)]
    [InlineData(-3, Verdict.Missed)]
    public void HarmonicsOfTheOctaveBelow_AreThatOctave_OnlyWhereTheyAreLoud(double loudestDb, Verdict verdict)
    {
        double own = Math.Pow(10, loudestDb / 20);
        double[] timbre = [0.02, 0.13, 0.16 * own, 1, own, 0.09, 0.06 * own, 0.11, 0.35 * own, 0.05, 0.3 * own, 0.02];
        Judge(Play((_, _) => 1, timbre, [.. _pitches.Select(pitch => pitch - 12)])).Verdict.Should().Be(verdict);
    }

    // Source: common practice: a tongue stroke interrupts the sound for a few hundredths of a second.
    [Theory]
    [InlineData(0.030)]
    [InlineData(0.045)]
    public void ANoteStruckAgain_IsAnExtra(double holeSeconds)
    {
        AttemptResult attempt = Judge(Play((note, at) => note == 1 && Math.Abs(at - 0.3) < holeSeconds / 2 ? 0.04 : 1, _full, _pitches));
        OnlyTheSecondNoteIsStruckAgain(attempt);
        attempt.ExtraNotes.Should().ContainSingle().Which.OnsetSeconds.Should().BeApproximately(1 + NoteSeconds + 0.3 + (holeSeconds / 2), 0.012);
    }

    // Browsers put 10 ms of silence into the sound of a microphone now and then.
    [Fact]
    public void AHoleOfTheLine_IsNoStroke() =>
        Judge(Play((note, at) => note == 1 && Math.Abs(at - 0.3) < 0.005 ? 0 : 1, _full, _pitches)).Verdict.Should().Be(Verdict.Clean);

    [Theory]
    [InlineData(6, 0.35)] // vibrato of the level, 6 a second
    [InlineData(2, 0.6)]  // a swell
    public void VibratoAndSwells_AreNoStrokes(double perSecond, double depth) =>
        Judge(Play((_, at) => 1 - (depth * 0.5 * (1 - Math.Cos(2 * Math.PI * perSecond * at))), _full, _pitches)).Verdict.Should().Be(Verdict.Clean);

    [Fact]
    public void TheRingOfARoom_OpensNoAttempt() =>
        Hear(InARoom(Play((_, _) => 1, _full, _pitches), seed: 5)).Should().ContainSingle().Which.Verdict.Should().Be(Verdict.Clean);

    // In a room the echo fills the hole of a stroke; the phase after a stroke is any phase.
    [Theory]
    [InlineData(5, 0, 0.28)]
    [InlineData(6, 0, 0.28)]
    [InlineData(7, 0, 0.28)]
    [InlineData(5, 2, 0.28)]
    [InlineData(6, 4, 0.28)]
    [InlineData(5, 0, 0.14)]
    [InlineData(6, 0, 0.14)]
    [InlineData(7, 0, 0.14)]
    [InlineData(8, 0, 0.14)]
    [InlineData(5, 0, 0.42)]
    [InlineData(6, 0, 0.42)]
    [InlineData(7, 0, 0.42)]
    public void ANoteStruckAgainInARoom_IsAnExtra(uint seed, double phaseAfter, double place)
    {
        float[] dry = Play(
            (note, at) => note == 1 && Math.Abs(at - place) < 0.0175 ? 0.04 : 1, _full, _pitches, turn: (note, at) => note == 1 && at > place ? phaseAfter : 0);
        OnlyTheSecondNoteIsStruckAgain(Judge(InARoom(dry, seed)));
    }

    // Source: common practice: a tongued note ends in a few hundredths of a second, and the next begins in less.
    [Theory]
    [InlineData(5, 1)]
    [InlineData(6, 2)]
    [InlineData(7, 3)]
    [InlineData(8, 4)]
    [InlineData(9, 5)]
    [InlineData(10, 6)]
    public void ANoteEndedAndTonguedAnewInARoom_IsAnExtra(uint seed, double phaseAfter)
    {
        float[] dry = Play(
            (note, at) => note != 1 ? 1 : at < 0.3 ? Math.Clamp((0.275 - at) / 0.045, 0, 1) : Math.Clamp((at - 0.31) / 0.01, 0, 1),
            _full,
            _pitches,
            turn: (note, at) => note == 1 && at > 0.3 ? phaseAfter : 0);
        OnlyTheSecondNoteIsStruckAgain(Judge(InARoom(dry, seed)));
    }

    // Vibrato of 5.5 a second and 25 cents to each side, as players of wind and strings have it: common practice. High and of few harmonics
    // it makes the level in a room swell and fade by 10 dB and more, for single reflections add up or cancel as the pitch moves; and what rings
    // on after the last note comes back, which is no attempt.
    [Theory]
    [InlineData(5, 0)]
    [InlineData(6, 0)]
    [InlineData(7, 0)]
    [InlineData(7, 24)]
    [InlineData(13, 24)]
    [InlineData(16, 24)]
    [InlineData(19, 24)]
    [InlineData(22, 24)]
    [InlineData(26, 24)]
    [InlineData(27, 24)]
    [InlineData(29, 24)]
    [InlineData(68, 24)]
    [InlineData(71, 24)]
    [InlineData(172, 24)]
    public void VibratoInARoom_IsNoStroke_AndItsRingNoAttempt(uint seed, int semitonesUp)
    {
        int[] pitches = [.. _pitches.Select(midi => midi + semitonesUp)];
        double rate = 2 * Math.PI * 5.5;
        double bend = Math.Pow(2, 25 / 1200.0) - 1;
        double[] harmonics = semitonesUp > 0 ? [1, 0.03] : _full;
        float[] dry = Play((_, at) => 1 - (0.2 * Math.Sin(rate * at)), harmonics, pitches, turn: (note, at) => bend * 2 * Math.PI * Hz(pitches[note]) / rate * (1 - Math.Cos(rate * at)));
        AttemptResult attempt = Hear(InARoom(dry, seed), semitonesUp: semitonesUp).Should().ContainSingle().Subject;
        attempt.Notes.Should().OnlyContain(n => !n.Faults.Contains(NoteFault.Extra));
    }

    // A swell of the breath is no stroke, however few harmonics are there to tell so: the tone goes on in its own phase.
    [Theory]
    [InlineData(null, 0.03, 1)]
    [InlineData(null, 0.04, 2)]
    [InlineData(5, 0.03, 1)]
    [InlineData(6, 0.03, 2)]
    [InlineData(13, 0.04, 1)]
    public void ASwellOfAToneOfFewHarmonics_IsNoStroke(int? roomSeed, double widthSeconds, int harmonics)
    {
        double[] timbre = [.. new[] { 1, 0.3 }.Take(harmonics)];
        float[] dry = Play((note, at) => note == 1 ? 1 - (0.75 * Math.Exp(-Math.Pow((at - 0.28) / widthSeconds, 2))) : 1, timbre, [.. _pitches.Select(midi => midi + 24)]);
        AttemptResult attempt = Hear(roomSeed is { } seed ? InARoom(dry, (uint)seed) : dry, semitonesUp: 24).Should().ContainSingle().Subject;
        attempt.Notes.Should().OnlyContain(n => !n.Faults.Contains(NoteFault.Extra));
    }

    // The limit of 25 cents: 15 is within it, 40 is not, and a note is only called out of tune when that is sure.
    [Theory]
    [InlineData(15, false)]
    [InlineData(-15, false)]
    [InlineData(40, true)]
    [InlineData(-40, true)]
    public void OutOfTune_IsSaidWhenItIsSure(double cents, bool faulty)
    {
        double[] off = [0, cents, 0, 0];
        AttemptResult attempt = Judge(Play((_, _) => 1, _full, _pitches, off), new Tolerances { Cents = 25 });
        attempt.Notes[1].CentsOff.Should().BeApproximately(cents, 4);
        attempt.Notes[1].Faults.Should().Equal(faulty ? [cents < 0 ? NoteFault.Flat : NoteFault.Sharp] : ImmutableArray<NoteFault>.Empty);
    }

    private static void OnlyTheSecondNoteIsStruckAgain(AttemptResult attempt)
    {
        attempt.Notes[1].Faults.Should().Equal(NoteFault.Extra);
        attempt.Notes.Where(n => n.Index != 1).Should().OnlyContain(n => n.Faults.Length == 0);
    }

    /// <summary>The sound and the second in which it dies away, in a room that loses 60 dB in that time (ISO 3382's reverberation time).</summary>
    private static float[] InARoom(float[] dry, uint seed)
    {
        float[] wet = [.. dry, .. new float[RateHz]];
        Hall.AddEcho(wet, reverberationSeconds: 1, seed);
        return wet;
    }

    private static double Hz(double midi) => 440 * Math.Pow(2, (midi - 69) / 12);

    private static float[] Play(Func<int, double, double> shape, double[] harmonics, int[] pitches, double[]? cents = null, Func<int, double, double>? turn = null)
    {
        var sound = new float[(int)((2.2 + (NoteSeconds * pitches.Length)) * RateHz)];
        var noise = new Random(1);
        for (int t = 0; t < sound.Length; t++)
        {
            sound[t] = (float)((noise.NextDouble() - 0.5) * 0.0004);
            double at = ((double)t / RateHz) - 1;
            int note = (int)Math.Floor(at / NoteSeconds);
            if (note < 0 || note >= pitches.Length)
            {
                continue;
            }

            double within = at - (note * NoteSeconds);
            double level = Math.Clamp(Math.Min(within / 0.02, (NoteSeconds - 0.06 - within) / 0.03), 0, 1) * shape(note, within);
            double hz = Hz(pitches[note] + ((cents?[note] ?? 0) / 100));
            double phase = (2 * Math.PI * hz * within) + (turn?.Invoke(note, within) ?? 0);
            for (int k = 0; k < harmonics.Length; k++)
            {
                sound[t] += (float)(0.1 * level * harmonics[k] * Math.Sin((k + 1) * phase));
            }
        }

        return sound;
    }

    private static AttemptResult Judge(float[] sound, Tolerances? tolerances = null) => Hear(sound, tolerances).Should().ContainSingle().Subject;

    private static List<AttemptResult> Hear(float[] sound, Tolerances? tolerances = null, int semitonesUp = 0)
    {
        var passage = new Passage
        {
            Title = "Four notes",
            Tempi = [new TempoMark(Fraction.Zero, 60 / NoteSeconds)],
            Notes = [.. _pitches.Select((midi, i) => new PassageNote { MidiPitch = midi + semitonesUp, Onset = i, Length = 1 })],
        };
        var ear = new Ear(RateHz, new JudgingTask(passage, null, tolerances ?? new Tolerances()));
        ear.Hear(new AudioBlock(sound, 0));
        ear.Finish();
        var attempts = new List<AttemptResult>();
        while (ear.TryTake(out AttemptResult? attempt))
        {
            attempts.Add(attempt!);
        }

        return attempts;
    }
}
