using System.Text;
using System.Text.Json;
using CsCheck;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Scores.Tests.Abc;

// The other reader: npm package abcjs 6.7.2 (its MIDI sequence), by other authors.
public sealed class AbcIndependentReaderTests
{
    private const int FileCount = 40;

    [Fact]
    public void Read_FortyTunes_SoundAlikeInAnotherLibrary()
    {
        using TemporaryFolder folder = new();
        string[] tunes = AbcGen.Tune.Array[FileCount].Single(_ => true, seed: "0N0XIzNsQ0O4");
        string[] paths = [.. tunes.Select((tune, index) => folder.Write($"{index}.abc", Encoding.UTF8.GetBytes(tune)))];

        JsonElement read = NodeReaders.Run("read-abc.mjs", paths)!.Value;

        for (int index = 0; index < FileCount; index++)
        {
            Passage passage = AbcPassageReaderTests.Read(tunes[index]).Passage;
            JsonElement[] notes = [.. read[index].GetProperty("notes").EnumerateArray()];
            notes.Select(note => note.GetProperty("pitch").GetInt32()).Should().Equal(passage.Notes.Select(note => note.MidiPitch), because: tunes[index]);
            foreach ((JsonElement note, PassageNote expected) in notes.Zip(passage.Notes))
            {
                const double Rounding = 1e-4; // the other library rounds to millionths of a whole note, note after note
                (note.GetProperty("start").GetDouble() * 4).Should().BeApproximately(expected.Onset.ToDouble(), Rounding, tunes[index]);
            }
        }
    }
}
