using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>Notes an octave too low, on tones made by arithmetic: another pitch (common practice), and below those that the ear listens for.</summary>
public sealed class LowOctaveTests
{
    private const double At = 0.6;
    private static readonly int[] _pitches = [64, 62, 60, 64, 62];

    [Theory]
    [InlineData(2, 1)]
    [InlineData(2, 4)]
    [InlineData(0, 1)]
    [InlineData(0, 4)]
    [InlineData(1, 2)]
    [InlineData(1, 4)]
    [InlineData(3, 1)]
    [InlineData(3, 4)]
    public void ANoteAnOctaveTooLow_IsNoRightNote(int index, long partOfQuarter)
    {
        var length = new Fraction(1, partOfQuarter);
        Passage passage = Playing.Written(_pitches, [.. Enumerable.Range(0, _pitches.Length + 1).Select(i => i <= index ? new Fraction(i, 1) : new Fraction(i - 1, 1) + length)]);
        var playing = new Playing(At + 5);
        foreach ((int i, PassageNote note) in passage.Notes.Index())
        {
            playing.Note(note.MidiPitch - (i == index ? 12 : 0), At + Playing.SecondsOf(note.Onset), Playing.SecondsOf(note.Length) - 0.03);
        }

        AttemptResult attempt = playing.HeardAs(passage).Should().ContainSingle().Subject;
        attempt.Verdict.Should().Be(Verdict.Missed);
        attempt.Notes[index].Faults.Should().NotBeEmpty();
    }
}
