using System.Collections.Immutable;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine.Wording;
using FluentAssertions;
using Xunit;

namespace EarCoach.Engine.Tests.Wording;

/// <summary>The sentences as a player is to read them; they are part of the product, so they are fixed here.</summary>
public sealed class VerdictWordingTests
{
    // Bars 5 to 7 of a horn part in 4/4 after a pickup of one quarter. Horn in F: written a fifth above sounding (common practice):
    // sounding C4 is written G4.
    private static readonly Passage _horn = new()
    {
        Title = "Invented",
        InstrumentId = "horn-f",
        Pickup = 1,
        FirstBarNumber = 5,
        Notes = [.. new[] { 60, 60, 62, 64, 65, 67, 60, 72 }.Select((midi, i) => new PassageNote { MidiPitch = midi, Onset = i, Length = 1 })],
    };

    private static readonly VerdictWording _wording = new([_horn]);

    [Fact]
    public void AFlatNote_IsNamedByBarPlaceAndWrittenPitch()
    {
        Lines(Faulty(6, new NoteResult { Index = 6, MidiPitch = 60, CentsOff = -34.4, Faults = [NoteFault.Flat] }))
            .Should().Equal("bar 6, second note (written G4): flat by 34 cents; tolerance 25");
        Lines(Faulty(0, new NoteResult { Index = 0, MidiPitch = 60, MsOff = 81, Faults = [NoteFault.Late] }))
            .Should().Equal("pickup, first note (written G4): late by 81 ms; tolerance 60");
    }

    [Theory]
    [InlineData(NoteFault.WrongPitch, "wrong pitch, written A4 heard")]
    [InlineData(NoteFault.Cracked, "cracked, another pitch for 80 ms; tolerance 40")]
    [InlineData(NoteFault.Missing, "missing")]
    [InlineData(NoteFault.Extra, "struck again")]
    [InlineData(NoteFault.Sharp, "sharp by 40 cents; tolerance 25")]
    [InlineData(NoteFault.Early, "early by 70 ms; tolerance 60")]
    public void EachFault_HasItsSentence(NoteFault fault, string expected) =>
        Lines(Faulty(1, new NoteResult { Index = 1, MidiPitch = 60, HeardMidi = 62.1, CentsOff = 40, MsOff = -70, CrackMs = 80, Faults = [fault] }))
            .Should().Equal($"bar 5, first note (written G4): {expected}");

    [Fact]
    public void AStruckAgain_IsToldOnce_AndAnExtraNoteByItsPlace()
    {
        AttemptResult attempt = Faulty(1, new NoteResult { Index = 1, MidiPitch = 60, Faults = [NoteFault.Extra] }) with
        {
            ExtraNotes = [new ExtraNote(1, 60, 1), new ExtraNote(2, 63, 4)],
        };
        Lines(attempt).Should().Equal(
            "bar 5, first note (written G4): struck again", "after bar 5, fourth note (written C5): extra note, written Bb4");
        VerdictWording.HeadlineOf(attempt).Should().Be("Missed: 2 faults.");
    }

    [Fact]
    public void ABrokenOffAttempt_IsOneSentence()
    {
        AttemptResult attempt = Faulty(0) with
        {
            Reason = "stopped",
            Notes = [.. Clean().Notes.Select((note, i) => i < 5 ? note : note with { OnsetSeconds = null, Faults = [NoteFault.Missing] })],
        };
        Lines(attempt).Should().Equal("stopped after bar 5, fourth note (written C5)");
        Lines(attempt with { Reason = null }).Should().Equal("from bar 6, first note (written D5) on: missing, 3 notes not heard");
        VerdictWording.HeadlineOf(attempt).Should().Be("Missed: you stopped.");
    }

    [Theory]
    [InlineData("gap", "Not counted: sound was lost on the way while you played.")]
    [InlineData("false-start", "Not counted: a false start.")]
    [InlineData("noise", "Not counted: a noise covered what you played.")]
    [InlineData("room-noise", "Not counted: the room is nearly as loud as your playing; move the microphone nearer or quieten the room.")]
    [InlineData("clipping", "Not counted: the sound was too loud to be recorded; move the microphone away or turn it down.")]
    [InlineData("something-else", "Not counted: you played something else.")]
    [InlineData("from-within", "Not counted: you began within the task, not at its beginning.")]
    [InlineData("played-on", "Not counted: you played on past the end of the task.")]
    public void EachReasonNotToCount_HasItsSentence(string reason, string expected) =>
        VerdictWording.HeadlineOf(Clean() with { Verdict = Verdict.NotCounted, Reason = reason }).Should().Be(expected);

    [Fact]
    public void ATempoTooFar_SaysBothTempi() => Lines(Faulty(0) with { Reason = "tempo", TempoQuartersPerMinute = 96 })
        .Should().Equal("too slow: 96 quarter notes a minute, asked 120; tolerance 15 %");

    [Fact]
    public void Headlines_AreShort()
    {
        VerdictWording.HeadlineOf(Clean()).Should().Be("Clean.");
        VerdictWording.HeadlineOf(Clean() with { Verdict = Verdict.NotCounted, Reason = "another" }).Should().Be("Not counted: another.");
        VerdictWording.HeadlineOf(Faulty(1, new NoteResult { Index = 1, MidiPitch = 60, Faults = [NoteFault.Flat] })).Should().Be("Missed: 1 fault.");
        VerdictWording.HeadlineOf(Clean(), disputed: true).Should().Be("Not counted: disputed by you.");
    }

    [Fact]
    public void ATaskOfARhythmVariantOrAPart_IsNamedAsThePlayerKnowsIt()
    {
        DrillTask task = new(0, 1, 5, null, VariantScaling.EqualTotal, 96, new Tolerances(), 440);
        _wording.TaskSentence(task).Should().Be("Invented: 5 notes, from bar 5, first note to bar 6, first note, quarter note = 96.");
        _wording.TaskSentence(task with { FirstNote = 0, NoteCount = 8, VariantCode = "2a" }).Should().Be("Invented: the whole passage, long-short, quarter note = 96.");
        _wording.TaskSentence(task with { NoteCount = 1, Tolerances = new Tolerances { Timing = TimingMode.Off } }).Should().Be("Invented: bar 5, first note (written G4).");
        _wording.TaskSentence(null).Should().Be("Done.");
    }

    // Common practice: 6/8 is counted in dotted quarter notes, 2/2 in half notes.
    [Theory]
    [InlineData(4, 4, "quarter note = 90")]
    [InlineData(6, 8, "dotted quarter note = 60")]
    [InlineData(2, 2, "half note = 45")]
    [InlineData(3, 8, "quarter note = 90")]
    public void ATempo_IsGivenByTheBeat(int beats, int beatType, string expected) =>
        VerdictWording.TempoOf(_horn with { Meters = [new MeterMark(Fraction.Zero, beats, beatType)] }, 90).Should().Be(expected);

    // The third note of a part that begins at the third note of the passage is the passage's fifth.
    [Fact]
    public void NotesOfAPart_AreNamedByThePassage()
    {
        AttemptResult attempt = Faulty(2, new NoteResult { Index = 2, MidiPitch = 65, Faults = [NoteFault.Missing] });
        _wording.LinesOf(attempt with { Notes = attempt.Notes[..3] }, 0, [2, 3, 4]).Should().Equal("bar 5, fourth note (written C5): missing");
    }

    private static IReadOnlyList<string> Lines(AttemptResult attempt) => _wording.LinesOf(attempt, 0, [.. Enumerable.Range(0, 8)]);

    private static AttemptResult Clean() => new()
    {
        StartSeconds = 0,
        EndSeconds = 4,
        Verdict = Verdict.Clean,
        Notes = [.. _horn.Notes.Select((note, i) => new NoteResult { Index = i, MidiPitch = note.MidiPitch, OnsetSeconds = i / 2.0 })],
        Task = new JudgingTask(_horn, 120, new Tolerances()),
    };

    private static AttemptResult Faulty(int index, NoteResult? note = null)
    {
        AttemptResult clean = Clean();
        ImmutableArray<NoteResult> notes = note is null ? clean.Notes : clean.Notes.SetItem(index, note with { OnsetSeconds = note.Faults.Contains(NoteFault.Missing) ? null : 1 });
        return clean with { Verdict = Verdict.Missed, Notes = notes };
    }
}
