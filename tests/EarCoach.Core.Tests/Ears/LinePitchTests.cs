using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>The pitch of a short note while the note before it rings on.</summary>
public sealed class LinePitchTests
{
    private const double At = 0.6;
    private const double Begins = At + 0.5;
    private const double Seconds = 0.15;
    private const double LeastSeconds = 0.07;

    // The note before goes on half as loud, a whole tone or a minor third beside it.
    [Theory]
    [InlineData(69, 71, 0)]
    [InlineData(71, 69, 0)]
    [InlineData(69, 72, 0)]
    [InlineData(69, 71, -60)] // truly flat
    [InlineData(71, 69, 55)]  // truly sharp
    [InlineData(57, 59, -60)]
    public void ANoteOverTheRingOfTheOneBefore_HasItsOwnPitch(int before, int midi, double cents)
    {
        LinePitch.Lines? found = null;
        new Playing(4).Note(before, At, 0.5).Note(before, At + 0.45, 0.4, 0.05).Note(midi + (cents / 100), Begins, Seconds).Note(before, At + 1, 1)
            .HeardAs(Playing.Quarters(before, midi), closed: (sound, _) => found = LinePitch.Of(sound, Begins, Begins + Seconds, midi, heard: before, [before], LeastSeconds));
        found.Should().NotBeNull();
        found!.Value.AreElsewhere.Should().BeTrue();
        (100 * (found.Value.Midi - midi)).Should().BeApproximately(cents, 6);
    }

    // A line of 0.1 s is 20 Hz wide to either side: a tenth of a semitone at 100 Hz is far less, in all six harmonics.
    [Fact]
    public void WhereNoLineStandsApart_NothingIsSaid()
    {
        LinePitch.Lines? found = default(LinePitch.Lines);
        new Playing(3).Note(43, At, 0.5).Note(43.1, Begins, 0.1)
            .HeardAs(Playing.Quarters(43, 44), closed: (sound, _) => found = LinePitch.Of(sound, Begins, Begins + 0.1, 43.1, heard: 43.05, [43], LeastSeconds));
        found.Should().BeNull();
    }

    // A second measurement is to tell two tones apart: where the lines are at the pitch that was heard, that stands.
    [Theory]
    [InlineData(57, 59, -60)]
    [InlineData(71, 69, 55)]
    public void WhereTheLinesAreAtThePitchHeard_TheyAgree(int before, int midi, double cents)
    {
        LinePitch.Lines? found = null;
        double played = midi + (cents / 100);
        new Playing(4).Note(before, At, 0.5).Note(played, Begins, Seconds).Note(before, At + 1, 1)
            .HeardAs(Playing.Quarters(before, midi), closed: (sound, _) => found = LinePitch.Of(sound, Begins, Begins + Seconds, midi, heard: played, [before], LeastSeconds));
        found.Should().NotBeNull();
        found!.Value.AreElsewhere.Should().BeFalse();
    }

    // A legato run in a hall of 1.1 s, each note 0.17 s: in tune it is clean, and one note 60 cents flat is heard as flat.
    [Theory]
    [InlineData(0)]
    [InlineData(-60)]
    public void AFastRunInAHall_IsAsInTuneAsItWasPlayed(double cents)
    {
        int[] pitches = [69, 71, 72, 74, 72, 71, 69, 67, 69];
        double each = Playing.QuarterSeconds / 4;
        var playing = new Playing(5);
        for (int i = 0; i < pitches.Length; i++)
        {
            playing.Note(pitches[i] + (i == 3 ? cents / 100 : 0), At + (i * each), each + 0.01);
        }

        Passage passage = Playing.Quarters(pitches);
        passage = passage with { Notes = [.. passage.Notes.Select((n, i) => n with { Onset = new Fraction(i, 4), Length = new Fraction(1, 4) })] };
        AttemptResult attempt = playing.InHall(1.1).HeardAs(passage, new Tolerances { Cents = 30 }).Should().ContainSingle().Which;
        attempt.Notes.Where(n => n.Faults.Length > 0).Select(n => n.Index).Should().Equal(cents == 0 ? [] : [3]);
        if (cents != 0)
        {
            attempt.Notes[3].Faults.Should().Contain(NoteFault.Flat);
        }
    }

    // A turn of 0.1 s while the note before rings on as loud: the two together have a period between theirs, but each has its lines.
    [Theory]
    [InlineData(69, 71, 71)]
    [InlineData(71, 69, 69)]
    [InlineData(76, 78, 78)]
    [InlineData(69, 71, 70)] // truly the semitone between them
    [InlineData(71, 69, 70)]
    public void AShortNoteInTheRingOfANeighbour_IsWrongOnlyWhereItWasPlayedSo(int neighbour, int written, int played)
    {
        int[] pitches = [64, neighbour, written, neighbour, 64, 62];
        Passage passage = Playing.Written(pitches, 0, 1, 2, new(43, 20), 3, 4, 5);
        var playing = new Playing(5);
        foreach ((int i, PassageNote note) in passage.Notes.Index())
        {
            playing.Note(i == 2 ? played : note.MidiPitch, At + Playing.SecondsOf(note.Onset), Playing.SecondsOf(note.Length) + 0.01);
        }

        playing.Note(neighbour, At + Playing.SecondsOf(2) - 0.02, 0.14);
        AttemptResult attempt = playing.HeardAs(passage).Should().ContainSingle().Which;
        attempt.Verdict.Should().Be(played == written ? Verdict.Clean : Verdict.Missed);
        attempt.Notes[2].Faults.Should().HaveCount(played == written ? 0 : 1, "in a ring as loud as it, a semitone away, a note may also be taken for a missing one");
    }

    // Of a note too short for its cents to be judged the semitone is: where another one is nearer by its period and its lines, it is that one.
    [Theory]
    [InlineData(0)]
    [InlineData(30)]
    [InlineData(-58)]
    [InlineData(60)]
    public void AShortNoteBetweenTwoSemitones_IsWrong(double cents)
    {
        Passage passage = Playing.Written([64, 69, 67, 64], 0, 1, new(15, 8), 2, 3);
        var playing = new Playing(4);
        foreach ((int i, PassageNote note) in passage.Notes.Index())
        {
            playing.Note(note.MidiPitch + (i == 2 ? cents / 100 : 0), At + Playing.SecondsOf(note.Onset), i == 2 ? 0.09 : Playing.SecondsOf(note.Length) - 0.08);
        }

        AttemptResult attempt = playing.HeardAs(passage).Should().ContainSingle().Which;
        attempt.Notes[2].SemitoneOnly.Should().BeTrue();
        if (Math.Abs(cents) < 50)
        {
            attempt.Notes[2].CentsOff.Should().BeNull();
        }
        else
        {
            attempt.Notes[2].CentsOff.Should().BeApproximately(cents, 12);
        }

        attempt.Notes.SelectMany(n => n.Faults).Should().Equal(Math.Abs(cents) < 50 ? [] : [NoteFault.WrongPitch, cents < 0 ? NoteFault.Flat : NoteFault.Sharp]);
    }
}
