using EarCoach.Core.Judging;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>Whose fault a note out of time is: the note's, or the tempo's. Common practice: one note strays, a tempo is kept by all.</summary>
public sealed class TempoLineTests
{
    private const double MostOffSeconds = 0.025;
    private static readonly double[] _due = [0, 1 / 3.0, 2 / 3.0, 1, 1.5, 2.5];
    private static readonly double[] _stray = [0.008, -0.006, 0.01, -0.009, 0.005, 0.012]; // as players do: 5 to 12 ms

    // The last of six notes: nothing after it tells how the tempo goes on.
    [Theory]
    [InlineData(1, 0.11)]
    [InlineData(1, -0.14)]
    [InlineData(0.96, 0.11)]
    [InlineData(1.04, 0.11)]
    public void TheLastNoteOutOfTime_IsNotTheTempo(double stretch, double seconds)
    {
        double[] heard = [.. _due.Select((due, i) => 3 + (stretch * due) + _stray[i])];
        heard[^1] += seconds;
        TempoLine line = TempoLine.Fit(_due, heard)!.Value;
        line.At(_due[^1]).Should().BeApproximately(3 + (stretch * _due[^1]), MostOffSeconds);
    }

    [Theory]
    [InlineData(0.9)]
    [InlineData(1.1)]
    public void ATempoThatAllKeep_IsTheTempo(double stretch)
    {
        double[] heard = [.. _due.Select((due, i) => 3 + (stretch * due) + _stray[i])];
        TempoLine line = TempoLine.Fit(_due, heard)!.Value;
        _due.Select(due => Math.Abs(line.At(due) - 3 - (stretch * due))).Should().OnlyContain(off => off < MostOffSeconds);
    }
}
