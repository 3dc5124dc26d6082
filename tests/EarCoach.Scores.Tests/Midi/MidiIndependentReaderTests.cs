using System.Text.Json;
using CsCheck;
using EarCoach.Core.Passages;
using EarCoach.Core.Tests.Passages;
using EarCoach.Scores.Midi;
using FluentAssertions;
using Xunit;

namespace EarCoach.Scores.Tests.Midi;

// The other reader and writer: npm package midi-file 1.2.4, by other authors.
public sealed class MidiIndependentReaderTests
{
    private const int FileCount = 40;

    [Fact]
    public void Write_FortyPassages_AreReadAlikeByAnotherLibrary()
    {
        using TemporaryFolder folder = new();
        Passage[] passages = PassageGen.Plain.Array[FileCount].Single(_ => true, seed: "0N0XIzNsQ0O1");
        string[] paths = [.. passages.Select((passage, index) =>
            folder.Write($"{index}.mid", MidiPassageWriter.ToBytes(passage, new MidiWriteOptions { Format = index % 2 })))];

        JsonElement read = NodeReaders.Run("read-midi.mjs", paths)!.Value;

        for (int index = 0; index < FileCount; index++)
        {
            JsonElement file = read[index];
            int ticks = file.GetProperty("ticksPerQuarter").GetInt32();
            file.GetProperty("notes").EnumerateArray()
                .Select(n => (Int(n, "pitch"), new Fraction(Int(n, "start"), ticks), new Fraction(Int(n, "end") - Int(n, "start"), ticks)))
                .Should().Equal(passages[index].Notes.Select(n => (n.MidiPitch, n.Onset, n.Length)), because: $"file {index}");
            file.GetProperty("tempi").EnumerateArray().Select(t => (new Fraction(Int(t, "tick"), ticks), 60_000_000.0 / Int(t, "microseconds")))
                .Should().Equal(passages[index].Tempi.Select(t => (t.At, t.QuartersPerMinute)), because: $"file {index}");
            file.GetProperty("keys").EnumerateArray().Select(k => Int(k, "fifths")).Should().Equal([passages[index].KeyFifths], because: $"file {index}");
            MeterMark[] meters = [.. file.GetProperty("meters").EnumerateArray()
                .Select(m => new MeterMark(new Fraction(Int(m, "tick"), ticks), Int(m, "beats"), Int(m, "beatType")))];
            meters[^1].Should().Be(passages[index].Meters[^1] is var last && last.At == Fraction.Zero ? last with { At = passages[index].Pickup } : last);
        }
    }

    [Fact]
    public void Read_FortyFilesOfAnotherLibrary_GivesTheNotesItWasGiven()
    {
        using TemporaryFolder folder = new();
        Passage[] passages = PassageGen.Plain.Array[FileCount].Single(_ => true, seed: "0N0XIzNsQ0O2");
        const int Ticks = 960;
        object[] wanted = [.. passages.Select((passage, index) => new
        {
            path = folder.PathOf($"{index}.mid"),
            format = index % 2,
            ticksPerQuarter = Ticks,
            running = index % 3 == 0,
            notes = passage.Notes.Select(n => new { pitch = n.MidiPitch, start = InTicks(n.Onset), end = InTicks(n.Onset + n.Length) }),
            tempi = passage.Tempi.Select(t => new { tick = InTicks(t.At), microseconds = (int)Math.Round(60_000_000 / t.QuartersPerMinute) }),
            meters = new[] { new { tick = 0L, beats = passage.Meters[0].Beats, beatType = passage.Meters[0].BeatType } },
            fifths = passage.KeyFifths,
        })];

        NodeReaders.Run("write-midi.mjs", [], JsonSerializer.Serialize(wanted));

        for (int index = 0; index < FileCount; index++)
        {
            Passage read = MidiPassageReaderTests.Read(File.ReadAllBytes(folder.PathOf($"{index}.mid")));
            read.Notes.Select(n => (n.MidiPitch, n.Onset, n.Length))
                .Should().Equal(passages[index].Notes.Select(n => (n.MidiPitch, n.Onset, n.Length)), because: $"file {index}");
            read.Tempi.Should().Equal(passages[index].Tempi, because: $"file {index}");
            read.Meters.Should().Equal([passages[index].Meters[0]], because: $"file {index}");
            read.KeyFifths.Should().Be(passages[index].KeyFifths);
        }

        static long InTicks(Fraction place) => (place * Ticks).Numerator;
    }

    private static int Int(JsonElement element, string name) => element.GetProperty(name).GetInt32();
}
