using System.Collections.Immutable;
using EarCoach.App.Commands;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine;
using FluentAssertions;
using Xunit;

namespace EarCoach.App.Tests;

public sealed class FaultSentencesTests
{
    private static readonly Passage _passage = new()
    {
        Title = "Three notes",
        InstrumentId = "horn-f",
        KeyFifths = -1,
        Notes =
        [
            new PassageNote { MidiPitch = 60, Onset = 0, Length = 1 },
            new PassageNote { MidiPitch = 65, Onset = 1, Length = new Fraction(3, 2) },
            new PassageNote { MidiPitch = 70, Onset = new Fraction(5, 2), Length = 2 },
        ],
    };

    // A horn in F sounds a fifth lower than written (common practice): sounding F4 is written C5.
    [Theory]
    [InlineData(NoteFault.Flat, "bar 1, beat 2  written C5 (sounds F4): flat by 31 cents, 25 allowed")]
    [InlineData(NoteFault.Sharp, "bar 1, beat 2  written C5 (sounds F4): sharp by 31 cents, 25 allowed")]
    [InlineData(NoteFault.Early, "bar 1, beat 2  written C5 (sounds F4): early by 88 ms, 60 allowed")]
    [InlineData(NoteFault.Late, "bar 1, beat 2  written C5 (sounds F4): late by 88 ms, 60 allowed")]
    [InlineData(NoteFault.Cracked, "bar 1, beat 2  written C5 (sounds F4): cracked, another pitch sounded for 70 ms, 40 forgiven")]
    [InlineData(NoteFault.WrongPitch, "bar 1, beat 2  written C5 (sounds F4): wrong-pitch, heard written Bb4 (sounds Eb4)")]
    [InlineData(NoteFault.Missing, "bar 1, beat 2  written C5 (sounds F4): missing, not heard")]
    [InlineData(NoteFault.Extra, "bar 1, beat 2  written C5 (sounds F4): extra, struck again")]
    public void Of_OneFault_NamesPlaceNoteFaultAmountAndLimit(NoteFault fault, string expected)
    {
        double sign = fault is NoteFault.Flat or NoteFault.Early ? -1 : 1;
        NoteResult faulty = Note(1, fault) with { CentsOff = sign * 31, MsOff = sign * 88, CrackMs = 70, HeardMidi = 63.1 };

        Sentences(Attempt([Note(0), faulty, Note(2)])).Should().Equal(expected);
    }

    [Fact]
    public void Of_OutOfTuneBeyondHalfASemitone_IsSaidOnce()
    {
        NoteResult faulty = Note(1, NoteFault.WrongPitch, NoteFault.Flat) with { CentsOff = -58, HeardMidi = 64.42 };

        Sentences(Attempt([Note(0), faulty, Note(2)])).Should().Equal(
            "bar 1, beat 2  written C5 (sounds F4): flat by 58 cents, 25 allowed (nearer to written B4 (sounds E4))");
    }

    [Fact]
    public void Of_Stopped_SaysAfterWhichNoteAndNotEachUnplayedOne()
    {
        AttemptResult attempt = Attempt([Note(0), Note(1, NoteFault.Missing) with { OnsetSeconds = null }, Note(2, NoteFault.Missing) with { OnsetSeconds = null }]) with { Reason = "stopped" };

        Sentences(attempt).Should().Equal("stopped after bar 1, beat 1");
    }

    [Fact]
    public void Of_WrongTempo_SaysWhichAndHowMuchIsAllowed()
    {
        AttemptResult attempt = Attempt([Note(0), Note(1), Note(2)]) with { Reason = "tempo", TempoQuartersPerMinute = 150 };

        Sentences(attempt).Should().Equal("tempo: 150 quarter notes a minute instead of 120; 15 % either way is allowed");
    }

    [Fact]
    public void Of_ExtraNotes_AreToldOnce()
    {
        AttemptResult struckAgain = Attempt([Note(0), Note(1, NoteFault.Extra), Note(2)]) with { ExtraNotes = [new ExtraNote(1.2, 65, 1)] };
        AttemptResult between = Attempt([Note(0), Note(1), Note(2)]) with { ExtraNotes = [new ExtraNote(1.2, 67.1, 1)] };

        Sentences(struckAgain).Should().Equal("bar 1, beat 2  written C5 (sounds F4): extra, struck again");
        Sentences(between).Should().Equal("after bar 1, beat 2  written D5 (sounds G4): extra, not in the passage");
    }

    [Fact]
    public void Of_CleanAttempt_SaysNothing() => Sentences(Attempt([Note(0), Note(1), Note(2)])).Should().BeEmpty();

    private static NoteResult Note(int index, params NoteFault[] faults) => new()
    {
        Index = index,
        MidiPitch = _passage.Notes[index].MidiPitch,
        OnsetSeconds = index,
        OffsetSeconds = index + 0.9,
        Faults = [.. faults],
    };

    private static AttemptResult Attempt(ImmutableArray<NoteResult> notes) => new()
    {
        StartSeconds = 0,
        EndSeconds = 3,
        Verdict = notes.Any(n => n.Faults.Length > 0) ? Verdict.Missed : Verdict.Clean,
        Notes = notes,
        Task = new JudgingTask(_passage, null, new Tolerances()),
    };

    private static IEnumerable<string> Sentences(AttemptResult attempt) =>
        new FaultSentences(new JudgeReport(attempt.Task, new NoSound(), null)).Of(attempt);

    private sealed class NoSound : IAudioSource
    {
        public int SampleRateHz => 48_000;

        public long? LengthSamples => 0;

        public long LostSamples => 0;

        public IReadOnlyList<string> Remarks => [];

        public int Read(Span<float> samples) => 0;

        public void Dispose()
        {
            // nothing to close
        }
    }
}
