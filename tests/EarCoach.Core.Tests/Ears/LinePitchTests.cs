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
        double? found = null;
        new Playing(4).Note(before, At, 0.5).Note(before, At + 0.45, 0.4, 0.05).Note(midi + (cents / 100), Begins, Seconds).Note(before, At + 1, 1)
            .HeardAs(Playing.Quarters(before, midi), closed: (sound, _) => found = LinePitch.Of(sound, Begins, Begins + Seconds, midi, heard: before, [before]));
        found.Should().NotBeNull();
        (100 * (found!.Value - midi)).Should().BeApproximately(cents, 6);
    }

    // A line of 0.1 s is 20 Hz wide to either side: a tenth of a semitone at 100 Hz is far less, in all six harmonics.
    [Fact]
    public void WhereNoLineStandsApart_NothingIsSaid()
    {
        double? found = 0;
        new Playing(3).Note(43, At, 0.5).Note(43.1, Begins, 0.1)
            .HeardAs(Playing.Quarters(43, 44), closed: (sound, _) => found = LinePitch.Of(sound, Begins, Begins + 0.1, 43.1, heard: 43.05, [43]));
        found.Should().BeNull();
    }

    // A second measurement is to tell two tones apart: where the lines are at the pitch that was heard, it has nothing to say.
    [Theory]
    [InlineData(57, 59, -60)]
    [InlineData(71, 69, 55)]
    public void WhereTheLinesAreAtThePitchHeard_NothingIsSaid(int before, int midi, double cents)
    {
        double? found = 0;
        double played = midi + (cents / 100);
        new Playing(4).Note(before, At, 0.5).Note(played, Begins, Seconds).Note(before, At + 1, 1)
            .HeardAs(Playing.Quarters(before, midi), closed: (sound, _) => found = LinePitch.Of(sound, Begins, Begins + Seconds, midi, heard: played, [before]));
        found.Should().BeNull();
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
}
