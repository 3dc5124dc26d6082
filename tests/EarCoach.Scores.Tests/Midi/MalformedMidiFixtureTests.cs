using FluentAssertions;
using Xunit;

namespace EarCoach.Scores.Tests.Midi;

// What is wrong with each file stands in fixtures/malformed-midi/README.md.
public sealed class MalformedMidiFixtureTests
{
    [Theory]
    [InlineData("empty", ScoreFailure.NotThisFormat, "byte 0")]
    [InlineData("not-midi", ScoreFailure.NotThisFormat, "byte 0")]
    [InlineData("cut-in-header", ScoreFailure.Truncated, "byte 9")]
    [InlineData("cut-in-track", ScoreFailure.Truncated, "byte 14")]
    [InlineData("track-missing", ScoreFailure.Truncated, "byte 66")]
    [InlineData("format-2", ScoreFailure.Unsupported, "byte 8")]
    [InlineData("smpte-division", ScoreFailure.Unsupported, "byte 12")]
    [InlineData("division-zero", ScoreFailure.Malformed, "byte 12")]
    [InlineData("no-notes", ScoreFailure.NoNotes, "whole file")]
    [InlineData("zero-tempo", ScoreFailure.Malformed, "track 1, byte 22")]
    [InlineData("metre-of-no-beats", ScoreFailure.Malformed, "track 1, byte 22")]
    [InlineData("chord", ScoreFailure.Polyphony, "bar 2, beat 2")]
    [InlineData("never-ended", ScoreFailure.Malformed, "bar 2, beat 2")]
    [InlineData("no-status-byte", ScoreFailure.Malformed, "track 1, byte 22")]
    [InlineData("huge-text-length", ScoreFailure.Truncated, "track 1, byte 22")]
    [InlineData("two-parts", ScoreFailure.PartNotChosen, "whole file")]
    [InlineData("100000-notes", ScoreFailure.TooLarge, "track 1, channel 1")]
    public void Read_Fixture_IsRefused(string name, ScoreFailure failure, string place) =>
        FluentActions.Invoking(() => MidiPassageReaderTests.Read(Bytes(name))).Should().Throw<ScoreException>()
            .Where(e => e.Failure == failure && e.Place == place);

    [Fact]
    public void Read_RunningStatusFixture_GivesItsFiveNotes() =>
        MidiPassageReaderTests.Read(Bytes("running-status")).Notes.Select(note => note.MidiPitch).Should().Equal(60, 62, 64, 65, 67);

    private static byte[] Bytes(string name) => File.ReadAllBytes(Path.Combine(Fixtures.Folder("malformed-midi"), name + ".mid"));
}
