using EarCoach.Scores.Midi;
using FluentAssertions;
using Xunit;

namespace EarCoach.Scores.Tests.Midi;

// Source of the rules broken here: RP-001, Standard MIDI Files 1.0.
public sealed class MalformedMidiTests
{
    public static TheoryData<string, byte[], ScoreFailure, string> Files => new()
    {
        { "empty", [], ScoreFailure.NotThisFormat, "byte 0" },
        { "text", "Not a MIDI file at all, but a letter."u8.ToArray(), ScoreFailure.NotThisFormat, "byte 0" },
        { "cut in the header", Good()[..9], ScoreFailure.Truncated, "byte 9" },
        { "cut in a track", Good()[..^5], ScoreFailure.Truncated, "byte 14" },
        { "track missing", [.. Good()[..11], 2, .. Good()[12..]], ScoreFailure.Truncated, $"byte {Good().Length}" },
        { "short header", [.. Good()[..7], 5, .. Good()[8..]], ScoreFailure.Malformed, "byte 4" },
        { "format 2", [.. Good()[..9], 2, .. Good()[10..]], ScoreFailure.Unsupported, "byte 8" },
        { "SMPTE division, 25 frames", [.. Good()[..12], 0xE7, 40, .. Good()[14..]], ScoreFailure.Unsupported, "byte 12" },
        { "division 0", [.. Good()[..12], 0, 0, .. Good()[14..]], ScoreFailure.Malformed, "byte 12" },
        { "no notes", SmfBytes.File(0, 96, new SmfBytes().Name("Rests").End()), ScoreFailure.NoNotes, "whole file" },
        { "no tracks", SmfBytes.File(1, 96), ScoreFailure.NoNotes, "whole file" },
        { "zero tempo", SmfBytes.File(0, 96, new SmfBytes().Tempo(0, 0).Note(60, 96).End()), ScoreFailure.Malformed, "track 1, byte 22" },
        { "metre of 0 beats", SmfBytes.File(0, 96, new SmfBytes().Meter(0, 0, 2).Note(60, 96).End()), ScoreFailure.Malformed, "track 1, byte 22" },
        { "metre over 128", SmfBytes.File(0, 96, new SmfBytes().Meter(0, 4, 7).Note(60, 96).End()), ScoreFailure.Malformed, "track 1, byte 22" },
        { "eight sharps", SmfBytes.File(0, 96, new SmfBytes().Key(0, 8).Note(60, 96).End()), ScoreFailure.Malformed, "track 1, byte 22" },
        { "never ended", SmfBytes.File(0, 96, new SmfBytes().Note(60, 96).On(0, 62).End()), ScoreFailure.Malformed, "bar 1, beat 2" },
        { "no length", SmfBytes.File(0, 96, new SmfBytes().Note(60, 0).End()), ScoreFailure.Malformed, "bar 1, beat 1" },
        { "running status without a status", SmfBytes.File(0, 96, new SmfBytes().Raw(0, 60, 80).End()), ScoreFailure.Malformed, "track 1, byte 22" },
        { "system real time", SmfBytes.File(0, 96, new SmfBytes().Raw(0, 0xF8).End()), ScoreFailure.Malformed, "track 1, byte 22" },
        { "five-byte number", SmfBytes.File(0, 96, [0x81, 0x80, 0x80, 0x80, 0x00]), ScoreFailure.Malformed, "track 1, byte 22" },
        { "meta event longer than its track", SmfBytes.File(0, 96, [0, 0xFF, 0x01, 0xFF, 0xFF, 0xFF, 0x7F, 65]), ScoreFailure.Truncated, "track 1, byte 22" },
        { "short tempo", SmfBytes.File(0, 96, new SmfBytes().Raw(0, 0xFF, 0x51, 2, 1, 1).End()), ScoreFailure.Malformed, "track 1, byte 22" },
        { "two tracks in format 0", [.. Good()[..11], 1, .. Good()[12..], .. Good()[14..]], ScoreFailure.Malformed, "byte 10" },
    };

    [Theory]
    [MemberData(nameof(Files))]
    public void Read_MalformedFile_IsRefusedWithPlaceAndReason(string name, byte[] file, ScoreFailure failure, string place)
    {
        ScoreException thrown = FluentActions.Invoking(() => MidiPassageReaderTests.Read(file)).Should().Throw<ScoreException>(name).Which;

        thrown.Failure.Should().Be(failure, name);
        thrown.Place.Should().Be(place, name);
        thrown.Reason.Should().EndWith(".");
    }

    [Fact]
    public void Describe_MalformedFile_IsRefusedToo() =>
        FluentActions.Invoking(() => MidiPassageReader.Describe(SmfBytes.Open(Good()[..^1]))).Should().Throw<ScoreException>();

    private static byte[] Good() => SmfBytes.File(0, 96, new SmfBytes().Note(60, 96).End());
}
