using CsCheck;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>The ear where a task changes its range, is very long, has notes too short for cents, or notes that need not be played.</summary>
public sealed class EarRangeTests
{
    private static readonly int[] _low = [40, 43, 45]; // E2 (MIDI 40), G2, A2
    private static readonly int[] _high = [96, 95, 93]; // C7 (MIDI 96), B6, A6

    [Fact]
    public void ATaskFarFromTheFirst_IsHeardAsWell()
    {
        foreach ((int[] first, int[] second) in new[] { (_low, _high), (_high, _low) })
        {
            List<AttemptResult> heard = OneAfterTheOther(first, second, 1_024);
            Playing.Words(heard).Should().Equal("clean", "clean");
            heard[1].StartSeconds.Should().BeApproximately(6, 0.03); // the clock goes on
            heard[1].Notes.Should().OnlyContain(n => Math.Abs(n.CentsOff!.Value) < 5);
        }
    }

    [Fact]
    public void AChangeOfRange_DoesNotDependOnWhereTheStreamIsCut()
    {
        string expected = Playing.Describe(OneAfterTheOther(_low, _high, 4_096));
        Gen.Int[1, 3_000].Sample(length => Playing.Describe(OneAfterTheOther(_low, _high, length)) == expected, iter: 5);
    }

    [Fact]
    public void ARegionOf150SecondsAnd300Notes_StaysWithinItsMemory()
    {
        TargetNote[] targets = [.. Enumerable.Range(0, 300).Select(i => new TargetNote(55 + (7 * i % 19), i * 0.5, 0.5, Slurred: false, Required: true))];
        var decoder = new RegionDecoder(targets, 0, framesPerSecond: 200);
        var frames = new HeardFrame[30_000];
        decoder.MostFrames.Should().BeGreaterThanOrEqualTo(frames.Length);
        RegionEvidence evidence = RegionEvidence.From(frames, 200);
        long before = GC.GetAllocatedBytesForCurrentThread();
        decoder.Decode(frames, evidence).Should().NotBeEmpty();
        (GC.GetAllocatedBytesForCurrentThread() - before).Should().BeLessThan(200_000_000);
    }

    [Fact]
    public void APassageThatIsMoreThanTheDecoderHoldsAtOnce_IsJudgedNoteByNote()
    {
        // 160 notes of a quarter second, an octave and a half of pitches that repeat themselves; 3 semitones wrong at one place.
        int[] pitches = [.. Enumerable.Range(0, 160).Select(i => 55 + (7 * i % 19))];
        Passage passage = Playing.Quarters(pitches) with { Tempi = [new TempoMark(Fraction.Zero, 240)] };
        var playing = new Playing(1 + 40 + 2);
        for (int i = 0; i < pitches.Length; i++)
        {
            playing.Note(pitches[i] + (i == 107 ? 3 : 0), 1 + (0.25 * i), 0.2);
        }

        AttemptResult attempt = playing.HeardAs(passage, blockLength: 4_096).Should().ContainSingle().Subject;
        attempt.Notes.Where(n => n.Faults.Length > 0).Select(n => n.Index).Should().Equal(107);
        attempt.Notes.Should().OnlyContain(n => Math.Abs(n.OnsetSeconds!.Value - (1 + (0.25 * n.Index))) < 0.02);
    }

    [Theory]
    [InlineData(0.090, true)]  // 45 ms of attack and ending leave 45 ms
    [InlineData(0.300, false)]
    public void ANoteWithLessThan60MillisecondsSteady_IsJudgedByTheSemitoneAlone(double seconds, bool semitoneOnly)
    {
        Playing playing = new Playing(6).Quarters(1, 60, 64).Note(67.4, 1 + (2 * Playing.QuarterSeconds), seconds).Note(65, 1 + (3 * Playing.QuarterSeconds), 0.5);
        NoteResult note = playing.HeardAs(Playing.Quarters(60, 64, 67, 65)).Should().ContainSingle().Subject.Notes[2];
        note.SemitoneOnly.Should().Be(semitoneOnly);
        note.CentsOff.HasValue.Should().Be(!semitoneOnly);
        note.Faults.Should().Equal(semitoneOnly ? [] : [NoteFault.Sharp]);
    }

    [Theory]
    [InlineData(62)]   // as printed
    [InlineData(63)]   // another pitch
    [InlineData(null)] // left out
    public void ANoteThatNeedNotBePlayed_IsNoFaultInAnyWay(int? played)
    {
        Passage passage = Playing.Quarters(60, 62, 64, 67);
        passage = passage with { Notes = passage.Notes.SetItem(1, passage.Notes[1] with { Required = false, TimingJudged = false }) };
        Playing playing = new Playing(6).Quarters(1, 60).Quarters(1 + (2 * Playing.QuarterSeconds), 64, 67);
        if (played is { } midi)
        {
            playing.Quarters(1 + Playing.QuarterSeconds, midi);
        }

        Playing.Words(playing.HeardAs(passage)).Should().Equal("clean");
    }

    private static List<AttemptResult> OneAfterTheOther(int[] first, int[] second, int blockLength)
    {
        float[] sound = new Playing(10).Quarters(1, first).Quarters(6, second).Sound;
        var ear = new Ear(Playing.RateHz, new JudgingTask(Playing.Quarters(first), null, new Tolerances()));
        const int ChangeAt = (int)(4.57 * Playing.RateHz);
        for (int at = 0; at < sound.Length;)
        {
            int until = at < ChangeAt ? ChangeAt : sound.Length;
            int length = Math.Min(blockLength, until - at);
            ear.Hear(new AudioBlock(sound.AsSpan(at, length), at));
            at += length;
            if (at == ChangeAt)
            {
                ear.SetTask(new JudgingTask(Playing.Quarters(second), null, new Tolerances()));
            }
        }

        ear.Finish();
        return Playing.Taken(ear);
    }
}
