using EarCoach.Core.Progress;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Progress;

public sealed class TroubleSpotsTests
{
    [Fact]
    public void Worst_RanksWhatFailsOften_AboveOneUnluckyAttempt()
    {
        NoteRecord[] records = [new(0, 30, 1), new(1, 1, 1), new(2, 30, 20), new(3, 30, 0), new(4, 30, 9)];
        TroubleSpots.Worst(records).Should().Equal(2, 1, 4);
        TroubleSpots.Worst([new(0, 1, 1), new(1, 30, 20)]).Should().Equal(1, 0);
        TroubleSpots.Worst([new(3, 30, 0)]).Should().BeEmpty();
    }

    // Arithmetic: .99^20 = .818, .999^20 = .980; for .95 over 20 notes each needs .95^(1/20) = .9974.
    [Fact]
    public void NeededPerNote_IsTheRoot() => TroubleSpots.NeededPerNote(.95, 20).Should().BeApproximately(.9974, 5e-5);

    // Rule of succession: 98 of 98 clean is .99 a note; 20 such notes .99^20 = .818.
    [Fact]
    public void CleanPlayThrough_IsTheProductOfTheNotes() =>
        TroubleSpots.CleanPlayThrough(Enumerable.Range(0, 20).Select(i => new NoteRecord(i, 98, 0))).Should().BeApproximately(.818, 5e-4);
}
