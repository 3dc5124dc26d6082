using FluentAssertions;
using Xunit;

namespace EarCoach.ReferenceTests;

public sealed class MeasuresTests
{
    // Source: MIREX onset detection: within 50 ms, limit included, each onset used once. 0.625 and 0.03125 are exact in binary.
    [Fact]
    public void Matches_OnTheLimit_CountsAndEachOnsetOnlyOnce()
    {
        Measures.Matches([0.625 + 0.03125], [0.625], 0.03125).Should().Be(1);
        Measures.Matches([0.625 + 0.0625], [0.625], 0.03125).Should().Be(0);
        Measures.Matches([0.60, 0.62, 0.64], [0.625], 0.05).Should().Be(1);
        Measures.Matches([0.60, 0.70], [0.64, 0.71], 0.05).Should().Be(2);
    }

    // Precision 3/4 and recall 3/6: F = 2 * 0.75 * 0.5 / 1.25 = 0.6.
    [Fact]
    public void F_IsTheHarmonicMean() => Measures.F(3, 4, 6).Should().BeApproximately(0.6, 1e-12);

    [Fact]
    public void GrossErrors_CountUnvoicedAndBeyond50Cents()
    {
        LabelledNote[] notes = [new LabelledNote(1, 2, 69.0)];
        PitchPoint[] heard =
        [
            new PitchPoint(1.05, 40, 0),    // within 100 ms of the onset: not counted
            new PitchPoint(1.20, 69.49, 0), // right
            new PitchPoint(1.30, 69.51, 0), // gross
            new PitchPoint(1.40, null, 0),  // gross
            new PitchPoint(1.96, 40, 0),    // within 50 ms of the offset: not counted
        ];

        Measures.GrossErrors(heard, notes).Should().Be((2, 3));
    }
}
