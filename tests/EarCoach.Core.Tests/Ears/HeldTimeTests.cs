using System.Collections.Immutable;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Ears;

/// <summary>How long a fermata is held moves what follows it, and is nobody's fault: common practice.</summary>
public sealed class HeldTimeTests
{
    private static readonly ImmutableArray<PassageNote> _quarters = [.. Enumerable.Range(0, 6).Select(i => new PassageNote { MidiPitch = 60 + i, Onset = i, Length = 1 })];

    private static readonly Passage _held = new()
    {
        Title = "Held",
        Notes = _quarters
            .SetItem(2, _quarters[2] with { Articulations = Articulations.Fermata })
            .SetItem(3, _quarters[3] with { TimingJudged = false }),
    };

    // At half a second a quarter note, ten per cent slow; the fermata lasts 0.7 s longer than that.
    [Fact]
    public void AFermata_MovesWhatFollows_ByWhatItWasHeldBeyondTheTempoOfTheAttempt() =>
        HeldTime.Of(_held, [0, 0.5, 1, 1.5, 2, 2.5], [10, 10.55, 11.1, 12.35, 12.9, 13.45])
            .Should().BeEquivalentTo([0, 0, 0, 0.7, 0.7, 0.7], options => options.WithStrictOrdering().Using<double>(c => c.Subject.Should().BeApproximately(c.Expectation, 1e-9)).WhenTypeIs<double>());

    [Fact]
    public void AFreeNote_WithoutAFermataBefore_MovesNothing()
    {
        Passage free = _held with { Notes = _held.Notes.SetItem(2, _quarters[2]) };
        HeldTime.Of(free, [0, 0.5, 1, 1.5, 2, 2.5], [0, 0.5, 1, 1.9, 2, 2.5]).Should().OnlyContain(moved => moved == 0);
    }

    [Fact]
    public void AMissingNote_AtTheFermata_MovesNothing() =>
        HeldTime.Of(_held, [0, 0.5, 1, 1.5, 2, 2.5], [0, 0.5, null, 1.9, 2.4, 2.9]).Should().OnlyContain(moved => moved == 0);
}
