using System.Text.Json;
using CsCheck;
using EarCoach.Core.Passages;
using EarCoach.Core.Tests.Passages;
using EarCoach.Scores.MusicXml;
using FluentAssertions;
using Xunit;

namespace EarCoach.Scores.Tests.MusicXml;

// The other reader: npm package verovio 6.3.0 (its MIDI rendering, read with midi-file), by other authors.
public sealed class MusicXmlIndependentReaderTests
{
    private const int FileCount = 40;

    [Fact]
    public void Write_FortyPassages_SoundAlikeInAnotherLibrary()
    {
        using TemporaryFolder folder = new();
        Passage[] passages = [.. PassageGen.Printed.Array[FileCount].Single(_ => true, seed: "0N0XIzNsQ0O3")];
        string[] paths = [.. passages.Select((passage, index) => folder.Write($"{index}.musicxml", MusicXmlPassageWriter.ToBytes(passage)))];

        JsonElement read = NodeReaders.Run("read-musicxml.mjs", paths)!.Value;

        for (int index = 0; index < FileCount; index++)
        {
            JsonElement file = read[index];
            file.GetProperty("loaded").GetBoolean().Should().BeTrue();
            int ticks = file.GetProperty("ticksPerQuarter").GetInt32();
            Passage passage = passages[index];
            JsonElement[] notes = [.. file.GetProperty("notes").EnumerateArray()];
            notes.Select(note => note.GetProperty("pitch").GetInt32()).Should().Equal(passage.Notes.Select(note => note.MidiPitch), because: $"file {index}");
            foreach ((JsonElement note, PassageNote expected) in notes.Zip(passage.Notes))
            {
                // The other library rounds to its ticks, and ends notes a tick early: a tick or two of grace.
                note.GetProperty("start").GetInt32().Should().BeCloseTo((int)Math.Round(expected.Onset.ToDouble() * ticks), 1, $"file {index}");
                note.GetProperty("end").GetInt32().Should().BeCloseTo((int)Math.Round(expected.End.ToDouble() * ticks), 2, $"file {index}");
            }

            file.GetProperty("ids").EnumerateArray().Select(id => id.GetString()).Should().Contain("n0", $"file {index}");
        }
    }
}
