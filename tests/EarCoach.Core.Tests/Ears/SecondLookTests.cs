using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>Where a note sets in although the one before still rings.</summary>
public sealed class SecondLookTests
{
    private const double At = 0.6;
    private const double LateSeconds = 0.16; // more than twice the usual limit of 70 ms
    private static readonly int[] _steps = [60, 62, 60, 58, 60, 62, 62, 64];

    [Fact]
    public void StepsInAHall_InTime_AreClean() =>
        Legato(new Playing(9), 0).InHall(1.1).HeardAs(Playing.Quarters(_steps)).Should().ContainSingle().Which.Verdict.Should().Be(Verdict.Clean);

    // A sixteenth 18 dB softer than its neighbours: common practice, a light note between two heavy ones. Left out, it is missing.
    [Theory]
    [InlineData(43, 41, 43, 48, false)]
    [InlineData(69, 67, 69, 74, false)]
    [InlineData(43, 41, 43, 48, true)]
    [InlineData(69, 67, 69, 74, true)]
    public void ASoftShortNote_IsMissing_OnlyWhereItWasLeftOut(int first, int second, int soft, int last, bool left)
    {
        Passage passage = Playing.Written([first, second, first, second, soft, last], 0, 1, 2, 3, new(13, 4), new(7, 2), 5);
        var playing = new Playing(5);
        foreach ((int i, PassageNote note) in passage.Notes.Index())
        {
            double level = i != 4 ? 0.1 : left ? 0 : 0.012;
            playing.Note(note.MidiPitch, At + Playing.SecondsOf(note.Onset), Playing.SecondsOf(note.Length) - 0.02, level);
        }

        AttemptResult attempt = playing.HeardAs(passage).Should().ContainSingle().Which;
        attempt.Notes.SelectMany(n => n.Faults).Should().Equal(left ? [NoteFault.Missing] : []);
    }

    // Slurred, a semitone above the note before where the one below was written, and heard by itself: no echo is that clear.
    [Theory]
    [InlineData(45, 44, 46)]
    [InlineData(69, 70, 68)]
    public void AShortWrongNoteOfAClearPitch_IsWrong(int before, int written, int played)
    {
        Passage passage = Playing.Written([before, before + 5, before, written, before - 5, before], 0, 1, 2, 3, new(13, 4), 4, 5);
        var playing = new Playing(5);
        foreach ((int i, PassageNote note) in passage.Notes.Index())
        {
            playing.Note(i == 3 ? played : note.MidiPitch, At + Playing.SecondsOf(note.Onset), Playing.SecondsOf(note.Length) + 0.01);
        }

        AttemptResult attempt = playing.HeardAs(passage).Should().ContainSingle().Which;
        attempt.Notes.SelectMany(n => n.Faults).Should().Equal(NoteFault.WrongPitch);
    }

    // Frames of 5 ms, 15 dB below the note before: so many of them with a pitch, from 1 s on; 30 ms is the least that counts as a note.
    [Theory]
    [InlineData(60.1f, 0.80f, 6, true)]
    [InlineData(60.1f, 0.80f, 5, false)]
    [InlineData(60.1f, 0.60f, 12, false)] // of no clear pitch
    [InlineData(58.0f, 0.90f, 12, false)] // the note before dying away
    [InlineData(60.6f, 0.90f, 12, false)] // nearer to another semitone
    public void AFaintNote_IsHeard_WhereItsPitchIsPlainForLongEnough(float midi, float clarity, int frames, bool isHeard) =>
        FaintNotes.PlainlyHeard(Between(58, 65, frames, midi, clarity), 60, from: 0.95, until: 1.2).HasValue.Should().Be(isHeard);

    // The time of a short note between two others, in such frames: nothing was played where the note before rings on by itself.
    [Theory]
    [InlineData(58.1f, 0.98f, true)]
    [InlineData(58.1f, 0.90f, false)] // something else sounds with it
    [InlineData(58.4f, 0.98f, false)] // or pulls its pitch
    public void TheNoteBeforeRingsAlone_WhereItsPitchIsAsClearAsThatOfOneTone(float midi, float clarity, bool isAlone) =>
        FaintNotes.IsRingAlone(Between(58, 65, 24, midi, clarity), 1, 1.12, pitch: 58).Should().Be(isAlone);

    // A short note of no clear pitch: it was struck where the level falls and rises again, above the noise; what rings on falls only.
    [Theory]
    [InlineData(-38, -32, 0.4f, true)]
    [InlineData(-32, -36, 0.4f, false)]
    [InlineData(-34, -32.5f, 0.4f, false)]
    [InlineData(-38, -32, 0.95f, false)] // the echo of the note before, which swells
    [InlineData(-66, -61, 0.4f, false)]  // the room, and the next note's breath
    public void AShortNoteOfNoClearPitch_IsHeard_WhereItWasStruck(float firstDbfs, float thenDbfs, float clarity, bool isStruck)
    {
        RegionSound sound = Struck(Between(58, 65, 24, 58, clarity), firstDbfs, thenDbfs, thenDbfs);
        FaintNotes.StruckAtLeast(sound, 0.98, 1.03, 1.1).HasValue.Should().Be(isStruck);
    }

    // Between two notes of its own pitch a short one of no clear pitch was struck where the level rises and falls again: what only rises is the next one.
    [Theory]
    [InlineData(-40, -34, -39, true)]
    [InlineData(-40, -36, -34, false)]
    [InlineData(-40, -38, -41, false)] // the room
    public void ARepeatedNoteOfNoClearPitch_IsHeard_BetweenTwoStrokes(float firstDbfs, float thenDbfs, float lastDbfs, bool isStruck)
    {
        RegionSound sound = Struck(Between(58, 58, 24, 58, clarity: 0.4f), firstDbfs, thenDbfs, lastDbfs);
        FaintNotes.StruckAtLeast(sound, 0.98, 1.03, 1.12, leastFallDb: 3).HasValue.Should().Be(isStruck);
    }

    // The pitch of the note before, for 0.12 s after it: the room's echo is much fainter and dies away; a player who plays it once more does not.
    [Theory]
    [InlineData(-33, -36, -40, true)]
    [InlineData(-28, -32, -36, false)] // nearly as loud as the note before, at -24
    [InlineData(-36, -33, -33, false)] // it swells
    public void TheRingOfTheNoteBefore_IsFaintAndDiesAway(float firstDbfs, float thenDbfs, float lastDbfs, bool isRing) =>
        FaintNotes.DiesAway(Struck(Between(58, 65, 24, 58, 0.95f), firstDbfs, thenDbfs, lastDbfs), begun: 0.5, ended: 0.99, first: 1, end: 1.12).Should().Be(isRing);

    // Heard an octave above the note, B flat 4 (70) after A flat 4 (68).
    [Theory]
    [InlineData(82.0, true, 70.0)]   // too short for its octave
    [InlineData(82.0, false, null)]  // long enough: it is an octave too high
    [InlineData(80.9, false, 68.9)]  // between the second harmonics of both
    [InlineData(80.1, false, null)]  // that of the note before
    [InlineData(84.0, true, null)]   // another note
    [InlineData(70.1, true, null)]
    public void AShortNoteInTheRingOfAnother_IsBroughtToItsOctave(double heard, bool semitoneOnly, double? pitch)
    {
        double? found = MeasuredAttempt.InOctaveOf(heard, target: 70, before: 68, semitoneOnly);
        found.HasValue.Should().Be(pitch.HasValue);
        (found ?? 0).Should().BeApproximately(pitch ?? 0, 0.001);
    }

    /// <summary>Gives the 24 frames from 1 s on their levels, a third of them each.</summary>
    private static RegionSound Struck(RegionSound sound, float firstDbfs, float thenDbfs, float lastDbfs)
    {
        for (int t = 200; t < 224; t++)
        {
            sound.Frames[t].LevelDbfs = t < 208 ? firstDbfs : t < 216 ? thenDbfs : lastDbfs;
        }

        return sound;
    }

    private static RegionSound Between(float before, float after, int frames, float midi, float clarity)
    {
        HeardFrame Frame(int t)
        {
            var frame = new HeardFrame { CentreSample = t * 240L, FloorDbfs = -70, CandidateCount = 1 };
            (frame.LevelDbfs, frame.Candidates[0]) = t < 200 ? (-24, new PitchCandidate(before, 0.98f, 0))
                : t < 200 + frames ? (-39, new PitchCandidate(midi, clarity, 0)) : (-24, new PitchCandidate(after, 0.98f, 0));
            return frame;
        }

        return MadeFrames.Region(300, Frame);
    }

    // Two short notes of one pitch, of which the first is left out, in a dry room: what sounds is the second, in time.
    [Fact]
    public void TheFirstOfTwoShortNotesOfOnePitch_LeftOut_IsMissing_AndTheOtherInTime()
    {
        Passage passage = Playing.Written([72, 70, 72, 72, 68, 70], 0, 1, 2, new(9, 4), new(5, 2), 3, 4);
        var playing = new Playing(5);
        foreach ((int i, PassageNote note) in passage.Notes.Index().Where(each => each.Index != 2))
        {
            playing.Note(note.MidiPitch, At + Playing.SecondsOf(note.Onset), Playing.SecondsOf(note.Length) - 0.04, i == 3 ? 0.12 : 0.1);
        }

        AttemptResult attempt = playing.HeardAs(passage).Should().ContainSingle().Which;
        attempt.Notes[2].Faults.Should().Equal(NoteFault.Missing);
        attempt.Notes.Where(note => note.Index != 2).Should().OnlyContain(note => note.Faults.IsEmpty);
    }

    // Due at 1 s, 70 ms pass: what rises without the pitch is not the note's beginning, but the pitch follows its own onset at once or after a while.
    [Theory]
    [InlineData(0.90, 1.01, 1.01)] // a rise 0.1 s before its time, the pitch in time: the end of the note before
    [InlineData(0.88, 0.93, 0.88)] // early: the pitch follows in 0.05 s
    [InlineData(1.09, 1.05, 1.05)] // its pitch is heard before what rises
    [InlineData(1.12, 1.16, 1.12)] // late
    [InlineData(0.95, 1.04, 0.95)] // in time
    public void ANote_IsOutOfTime_OnlyWhereItsPitchIs(double rises, double pitchIsHeard, double begins)
    {
        var note = new MeasuredNote(rises, pitchIsHeard, 1.5, 60, 0, null, Restruck: false, SemitoneOnly: false);
        MeasuredAttempt.HeldAgainstPitch(note, due: 1, limit: 0.07).OnsetSeconds.Should().Be(begins);
    }

    // B flat 3 (58), then C4 (60), plain from 1 s on. Before that 0.1 s in which the echo is mixed with the new note, or in which it is alone.
    [Theory]
    [InlineData(-30, 0.70f, 58.2f, 0.9)]   // as loud as the note, of no clear pitch
    [InlineData(-31, 0.85f, 58.6f, 0.9)]   // of a pitch between the two
    [InlineData(-30, 0.88f, 58.2f, 0.9)]   // of a pitch a little towards the new note's, and not one tone's clarity
    [InlineData(-30, 0.88f, 57.8f, 1.0)]   // the note before, which wavers
    [InlineData(-30, 0.97f, 58.2f, 1.0)]   // the note before, alone and a little sharp
    [InlineData(-30, 0.95f, 58.0f, 1.0)]   // the note before, still plain
    [InlineData(-38, 0.70f, 58.0f, 1.0)]   // a faint echo
    [InlineData(-40, 0.85f, 59.5f, 0.9)]   // the new note, softly begun and flat
    [InlineData(-40, 0.85f, 58.8f, 1.0)]   // neither
    [InlineData(-43, 0.85f, 59.5f, 1.0)]   // too soft for it
    public void BeforeItsPitchIsPlain_ANoteMayBeMixedWithAnEcho(float levelDbfs, float clarity, float midi, double earliest)
    {
        HeardFrame Frame(int t)
        {
            var frame = new HeardFrame { CentreSample = t * 240L, FloorDbfs = -70, CandidateCount = 1 };
            (frame.LevelDbfs, frame.Candidates[0]) = t < 180 ? (-24, new PitchCandidate(58, 0.98f, 0))
                : t < 200 ? (levelDbfs, new PitchCandidate(midi, clarity, 0)) : (-29, new PitchCandidate(60, 0.95f, 0));
            return frame;
        }

        RegionSound sound = MadeFrames.Region(300, Frame);
        FaintNotes.EarliestOnset(sound, onset: 1, due: 0.8, pitchBefore: 58, pitch: 60).Should().BeApproximately(earliest, 0.006);
        FaintNotes.EarliestOnset(sound, onset: 1, due: 0.95, pitchBefore: 58, pitch: 60).Should().BeApproximately(Math.Max(earliest, 0.95), 0.006);
    }

    // Due at 1 s, 70 ms pass: a rise 0.1 s early with the pitch 0.06 s early, but its own harmonics follow only later, or come with it.
    [Theory]
    [InlineData(0.97, 0.97)]
    [InlineData(0.91, 0.90)]
    public void ANote_IsEarly_OnlyWhereItsOwnHarmonicsAre(double riseSeconds, double begins)
    {
        var note = new MeasuredNote(0.90, 0.94, 1.5, 60, 0, null, Restruck: false, SemitoneOnly: false, riseSeconds);
        MeasuredAttempt.HeldAgainstPitch(note, due: 1, limit: 0.07).OnsetSeconds.Should().Be(begins);
    }

    // Another pitch for 0.1 s, from 0.4 s on: with the next note, which begins a little before or after, or long before that.
    [Theory]
    [InlineData(0.38, true)]
    [InlineData(0.44, true)]
    [InlineData(0.48, false)]
    [InlineData(null, false)] // the next one is missing
    public void ABreakThatIsHeardWithTheNextNote_IsNone(double? nextSeconds, bool isNone)
    {
        var note = new MeasuredNote(0, 0, 0.5, 60, 0, CrackMs: 100, Restruck: false, SemitoneOnly: false, BreakSeconds: 0.4);
        var next = new MeasuredNote(nextSeconds, 0.5, 0.9, 67, 0, null, Restruck: false, SemitoneOnly: false);
        MeasuredAttempt.BreaksInNext(note, next).Should().Be(isNone);
    }

    // Of two notes of one pitch the second is struck 0.2 s early or late, and the others in time. That it was due then is no sign that it was struck then.
    [Theory]
    [InlineData(-0.2, NoteFault.Early)]
    [InlineData(-0.15, NoteFault.Early)]
    [InlineData(0.15, NoteFault.Late)]
    [InlineData(0.2, NoteFault.Late)]
    public void ARepeatedNoteStruckAtAnotherTime_IsNotInTime(double seconds, NoteFault fault)
    {
        int[] pitches = [64, 62, 62, 65, 67];
        double Begins(int i) => 1 + (i * Playing.QuarterSeconds) + (i == 2 ? seconds : 0);
        var playing = new Playing(6);
        for (int i = 0; i < pitches.Length; i++)
        {
            playing.Note(pitches[i], Begins(i), Begins(i + 1) - Begins(i) - 0.05);
        }

        AttemptResult attempt = playing.HeardAs(Playing.Quarters(pitches)).Should().ContainSingle().Subject;
        attempt.Notes[2].Faults.Should().Equal(fault);
        attempt.Notes.Where(note => note.Index != 2).Should().OnlyContain(note => note.Faults.IsEmpty);
    }

    // Struck once in a room, after a hole of 50 ms, and said to set in nearer to its time, where nothing speaks for a stroke but the hole's own edge.
    [Theory]
    [InlineData(-0.11, -0.02)]
    [InlineData(-0.1, 0)]
    [InlineData(0.1, 0.02)]
    [InlineData(0.12, 0.04)]
    [InlineData(0.15, 0.02)]
    [InlineData(0, 0)]
    public void ARepeatedNote_SetsInWhereItWasStruck_NotWhereItWasDue(double seconds, double saidAfterDue)
    {
        const double Due = At + 0.7;
        double struck = Due + seconds;
        double? found = null;
        new Playing(4).Note(62, At, struck - 0.05 - At).Note(62, struck, 0.9).InHall(0.5).HeardAs(Playing.Quarters(62, 62), closed: (sound, _) =>
        {
            var note = new MeasuredNote(Due + saidAfterDue, Due + saidAfterDue, struck + 0.9, 62, 0, null, Restruck: false, SemitoneOnly: false);
            found = SecondLook.OtherStroke(sound, Due, note, 62, At);
        });
        (found ?? Due + saidAfterDue).Should().BeApproximately(struck, 0.025);
    }

    // A low note struck again in time in a room, whose tone slackens after a plain attack and swells: that is no stroke, for it has but one plain edge.
    [Theory]
    [InlineData(0.06, 0.005, 0.01)]
    [InlineData(0.06, 0.01, 0.01)]
    [InlineData(0.1, 0.01, 0.018)]
    [InlineData(0.15, 0.02, 0.026)]
    public void ARepeatedNoteOfAnUnevenTone_SetsInWhereItWasStruck(double attack, double swell, double gap)
    {
        const double Due = At + 0.16;
        const double Said = Due + 0.105;
        var found = new List<double?>();
        new Playing(4).Note(58, At, 0.16 - gap, 0.05).Note(58, Due, 0.6, 0.02).Note(58, Due, 0.085, attack).Note(58, Said, 0.5, swell).InHall(0.4).HeardAs(Playing.Quarters(58, 58), closed: (sound, _) =>
        {
            var before = new MeasuredNote(At, At, Due - gap, 58, 0, null, Restruck: false, SemitoneOnly: false);
            var note = new MeasuredNote(Said, Said, Due + 0.6, 58, 0, null, Restruck: false, SemitoneOnly: false);
            found.Add(SecondLook.Onset(sound, Due, note, 58, before, 58));
        });
        found.Should().NotBeEmpty().And.OnlyContain(onset => Math.Abs((onset ?? Said) - Due) < 0.03);
    }

    // A tone that rises has one edge; a gap has two.
    [Theory]
    [InlineData(0, 3.0, false)]
    [InlineData(0, 5.0, false)]
    [InlineData(0.05, 1.0, true)]
    [InlineData(0.05, 1.5, true)]
    public void AStroke_HasTwoEdges(double gap, double times, bool hasTwo)
    {
        const double Moment = At + 0.7;
        (double Fall, double Rise) edges = default;
        Playing playing = gap > 0
            ? new Playing(3).Note(50, At, 0.7 - gap, 0.04).Note(50, Moment, 0.6, 0.04 * times)
            : new Playing(3).Note(50, At, 1.3, 0.04).Note(50, Moment, 0.6, 0.04 * (times - 1));
        playing.HeardAs(Playing.Quarters(50), closed: (sound, _) =>
        {
            OwnHarmonics power = OwnHarmonics.Measure(sound, Moment - 0.3, Moment + 0.3, 50, null)!;
            edges = OnsetLikelihood.EdgesOfStroke(power, (int)(0.31 / OwnHarmonics.StepSeconds));
        });
        edges.Rise.Should().BePositive();
        (edges.Fall > 0.25 * edges.Rise).Should().Be(hasTwo, "fall {0}, rise {1}", edges.Fall, edges.Rise);
    }

    // A high note has few harmonics, and in noise little speaks for its stroke: struck in time, but said to set in later, where nothing is: so late as half a second nobody is.
    [Theory]
    [InlineData(0.4, 0.025, true)]
    [InlineData(0.5, 0.035, true)]
    [InlineData(0.6, 0.045, true)]
    [InlineData(0.4, 0, false)]
    [InlineData(0.6, 0, false)]
    [InlineData(0.8, 0.035, true, 0.5)]
    [InlineData(0.9, 0.045, true, 0.5)]
    [InlineData(0.6, 0, false, 0.5)]
    [InlineData(0.9, 0, false, 0.5)]
    public void AHighNoteRepeatedInNoise_SetsInWhereItWasStruck(double noise, double gapSeconds, bool isStruck, double saidAfterDue = 0.17)
    {
        const double Due = At + 0.7;
        Playing playing = isStruck ? new Playing(4).Note(83, At, 0.7 - gapSeconds).Note(83, Due, 0.9) : new Playing(4).Note(83, At, 1.6);
        var found = new List<double?>();
        playing.Noise(noise, Due - 0.45, 0.9).HeardAs(Playing.Quarters(83, 83), closed: (sound, _) =>
        {
            var before = new MeasuredNote(At, At, Due - gapSeconds, 83, 0, null, Restruck: false, SemitoneOnly: false);
            var note = new MeasuredNote(Due + saidAfterDue, Due + saidAfterDue, Due + 0.9, 83, 0, null, Restruck: false, SemitoneOnly: false);
            found.Add(SecondLook.Onset(sound, Due, note, 83, before, 83));
        });
        found.Should().NotBeEmpty().And.OnlyContain(onset => onset.HasValue == isStruck && Math.Abs((onset ?? Due) - Due) < 0.025);
    }

    // Quiet notes slurred to from louder ones, whose echo rings on.
    [Fact]
    public void SlursFromLouderNotesInAHall_ArePlacedWhereTheirOwnHarmonicsRise()
    {
        int[] steps = [64, 62, 65, 60, 67, 65, 62, 60];
        double Begins(int i) => At + (i * Playing.QuarterSeconds);
        var playing = new Playing(9);
        for (int i = 0; i < steps.Length; i++)
        {
            playing.Note(steps[i], Begins(i), Playing.QuarterSeconds + 0.02, i % 2 == 0 ? 0.2 : 0.06);
        }

        AttemptResult attempt = playing.InHall(1.6).HeardAs(Playing.Quarters(steps)).Should().ContainSingle().Which;
        attempt.Notes.Select((note, i) => note.OnsetSeconds - Begins(i)).Should().OnlyContain(off => Math.Abs(off!.Value) < 0.02);
    }

    [Theory]
    [InlineData(2)] // a slur down a whole tone
    [InlineData(6)] // the same note again
    public void ALateNoteInAHall_StaysLate_AndNoOtherIs(int index)
    {
        AttemptResult attempt = Legato(new Playing(9), index).InHall(1.1).HeardAs(Playing.Quarters(_steps)).Should().ContainSingle().Which;
        attempt.Notes.Where(note => note.Faults.Length > 0).Should().ContainSingle().Which.Should().Match<NoteResult>(
            note => note.Index == index && note.Faults.SequenceEqual(new[] { NoteFault.Late }));
    }

    [Fact]
    public void ARise_IsLikeliest_WhereTheNoteSetsIn()
    {
        double begins = At + Playing.QuarterSeconds;
        double[]? gain = null;
        Legato(new Playing(9), 0).InHall(1.1).HeardAs(Playing.Quarters(_steps), closed: (sound, _) =>
        {
            OwnHarmonics power = OwnHarmonics.Measure(sound, begins - 0.2, begins + 0.2, 62, 60)!;
            gain = OnsetLikelihood.OfRise(power);
        });
        double likeliest = begins - 0.2 + (Array.IndexOf(gain!, gain!.Max()) * OwnHarmonics.StepSeconds);
        likeliest.Should().BeApproximately(begins, 0.02, "a note of this playing needs 20 ms to its full level");
    }

    // A quiet note of 0.1 s between two louder ones, in a hall: it is there, or it is not.
    [Theory]
    [InlineData(true, 67)]
    [InlineData(false, 67)]
    [InlineData(true, 53)]
    [InlineData(false, 53)]
    public void AShortNoteInAHall_IsFoundWhereItSounds_AndOnlyThere(bool sounds, int pitch)
    {
        const double Due = At + 0.5;
        const double Next = Due + 0.12;
        Playing playing = new Playing(4).Note(60, At, 0.51).Note(64, Next, 1);
        playing = sounds ? playing.Note(pitch, Due, 0.1, 0.05) : playing;
        double? found = null;
        playing.InHall(1.1).HeardAs(Playing.Quarters(60, 64), closed: (sound, _) => found = SecondLook.Masked(sound, Due, pitch, At, 60, Next));
        if (sounds)
        {
            found.Should().NotBeNull();
            found!.Value.Should().BeApproximately(Due, 0.025);
        }
        else
        {
            found.Should().BeNull();
        }
    }

    // In the place of a short note another pitch was heard: the common period of note and echo, or a wrong note in truth.
    [Theory]
    [InlineData(67, 62.3, true)]
    [InlineData(69, 69.1, false)]
    [InlineData(65, 64.9, false)]
    public void AnotherPitchInAShortNotesPlace_IsWeighedAgainstIt(int sounds, double heard, bool isRight)
    {
        const double Due = At + 0.5;
        const double Next = Due + 0.12;
        double? found = null;
        new Playing(4).Note(60, At, 0.51).Note(sounds, Due, 0.1, 0.05).Note(64, Next, 1).InHall(1.1)
            .HeardAs(Playing.Quarters(60, 64), closed: (sound, _) => found = SecondLook.Masked(sound, Due, 67, At, 60, Next, heard));
        found.HasValue.Should().Be(isRight);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void AShortFirstNote_IsFoundWhereItSounds_AndOnlyThere(bool sounds)
    {
        const double Next = At + 0.12;
        Playing playing = new Playing(4).Note(64, Next, 0.5).Note(65, Next + 0.6, 1);
        playing = sounds ? playing.Note(60, At, 0.1, 0.05) : playing;
        double? found = null;
        playing.HeardAs(Playing.Quarters(64, 65), closed: (sound, _) => found = SecondLook.Masked(sound, At, 60, null, null, Next));
        found.HasValue.Should().Be(sounds);
    }

    [Fact]
    public void OwnHarmonics_OfAnOctaveAbove_AreNone()
    {
        bool told = true;
        Legato(new Playing(9), 0).HeardAs(Playing.Quarters(_steps), closed: (sound, _) => told = OwnHarmonics.Measure(sound, 1, 1.4, 72, 60) is not null);
        told.Should().BeFalse("each harmonic of the octave is one of the lower note too");
    }

    /// <summary>The steps, each up to the next; the same note again after a gap of 60 ms. One of them may be late, and the one before is then held.</summary>
    private static Playing Legato(Playing playing, int late)
    {
        double Begins(int i) => At + (i * Playing.QuarterSeconds) + (i == late && i > 0 ? LateSeconds : 0);
        for (int i = 0; i < _steps.Length; i++)
        {
            double gap = i + 1 < _steps.Length && _steps[i + 1] == _steps[i] ? 0.06 : 0;
            playing.Note(_steps[i], Begins(i), Begins(i + 1) - Begins(i) - gap + 0.01);
        }

        return playing;
    }
}
