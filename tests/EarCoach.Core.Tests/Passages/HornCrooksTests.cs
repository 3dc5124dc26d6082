using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Passages;

// Source: common practice, as in orchestral players' transposition tables.
public sealed class HornCrooksTests
{
    [Theory]
    [InlineData("Horn in Bb alto", -2)]
    [InlineData("Horn in A", -3)]
    [InlineData("horn in A flat", -4)]
    [InlineData("G", -5)]
    [InlineData("F#", -6)]
    [InlineData("Horn in F", -7)]
    [InlineData("Horn in E", -8)]
    [InlineData("Horn in E♭", -9)]
    [InlineData("Horn in D", -10)]
    [InlineData("Horn in D-flat", -11)]
    [InlineData("Horn in C", -12)]
    [InlineData("Horn in B basso", -13)]
    [InlineData("Horn in B flat basso", -14)]
    public void Meant_AClearHeading_IsOneCrook(string heading, int soundingMinusWritten) =>
        HornCrooks.Meant(heading).Should().ContainSingle().Which.Transposition.Semitones.Should().Be(soundingMinusWritten);

    [Theory]
    [InlineData("Horn in B flat")]
    [InlineData("Horn in Bb")]
    [InlineData("B♭")]
    public void Meant_HornInBFlat_MustBeAsked(string heading) =>
        HornCrooks.Meant(heading).Select(crook => crook.Id).Should().Equal("bb-alto", "bb-basso");

    [Fact]
    public void Meant_NoCrook_IsNone() => HornCrooks.Meant("Horn in Q").Should().BeEmpty();

    // In the old notation a horn in F sounds a fourth above what is written in bass clef.
    [Fact]
    public void OldBassClef_SoundsAnOctaveHigherThanTheTrebleClef()
    {
        HornCrooks.Meant("F").Single().OldBassClef.Should().Be(new Transposition(3, 5));
        foreach (HornCrook crook in HornCrooks.All)
        {
            (crook.OldBassClef.Semitones - crook.Transposition.Semitones).Should().Be(12, crook.Id);
            (crook.OldBassClef.StaffSteps - crook.Transposition.StaffSteps).Should().Be(7, crook.Id);
        }
    }
}
