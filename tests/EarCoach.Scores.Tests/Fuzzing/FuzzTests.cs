using System.Diagnostics;
using System.Globalization;
using System.Text;
using CsCheck;
using EarCoach.Core.Passages;
using EarCoach.Core.Tests.Passages;
using EarCoach.Scores.Abc;
using EarCoach.Scores.Midi;
using EarCoach.Scores.MusicXml;
using EarCoach.Scores.Tests.Abc;
using Xunit;

namespace EarCoach.Scores.Tests.Fuzzing;

/// <summary>Damaged files of each format: read or refused with place and reason, within a second and 200 MB, never anything else.</summary>
/// <remarks>100,000 of each format, half a minute in all; EARCOACH_FUZZ_COUNT sets another count.</remarks>
public sealed class FuzzTests
{
    private const long MostAllocatedBytes = 200L * 1024 * 1024; // everything allocated while reading, a bound on what is held at once
    private static readonly TimeSpan _longest = TimeSpan.FromSeconds(1);
    private static readonly string[] _placeWords = ["byte", "line", "part", "track", "channel", "bar", "archive", "whole", "measure", "tune"];

    [Fact]
    public void Midi_DamagedFiles_AreReadOrRefused() => Fuzz(
        [
            .. Passages(PassageGen.Plain).Select((passage, index) => MidiPassageWriter.ToBytes(passage, new MidiWriteOptions { Format = index % 2, Program = 61 })),
            File.ReadAllBytes(Path.Combine(Fixtures.Folder("malformed-midi"), "running-status.mid")),
        ],
        stream => MidiPassageReader.Read(stream));

    [Fact]
    public void MusicXml_DamagedFiles_AreReadOrRefused() => Fuzz(
        [.. Passages(PassageGen.Marked).Select(passage => MusicXmlPassageWriter.ToBytes(passage))], stream => MusicXmlPassageReader.Read(stream).Passage);

    [Fact]
    public void CompressedMusicXml_DamagedFiles_AreReadOrRefused() => Fuzz(
        [.. Passages(PassageGen.Marked).Select(passage => MusicXmlPassageWriter.ToBytes(passage, new MusicXmlWriteOptions { Compressed = true }))],
        stream => MusicXmlPassageReader.Read(stream).Passage);

    [Fact]
    public void Abc_DamagedFiles_AreReadOrRefused() => Fuzz(
        [
            .. AbcGen.Tune.Array[12].Single(_ => true, seed: "0N0XIzNsQ0O5").Select(Encoding.UTF8.GetBytes),
            .. new[] { "X:1\nT:a\nM:6/8\nK:D mix transpose=-2\n|:(3abc {de}f>g!fermata!a|[1 Z2|z6:|[2 [K:G][M:3/4][Q:1/4=90] \"Am\"c-c ~d .e|]\n" }.Select(Encoding.UTF8.GetBytes),
        ],
        stream => AbcPassageReader.Read(stream).Passage);

    private static Passage[] Passages(Gen<Passage> gen) => gen.Array[12].Single(_ => true, seed: "0N0XIzNsQ0O6");

    private static void Fuzz(IReadOnlyList<byte[]> files, Func<Stream, Passage> read)
    {
        int count = int.TryParse(Environment.GetEnvironmentVariable("EARCOACH_FUZZ_COUNT"), NumberStyles.None, CultureInfo.InvariantCulture, out int asked) ? asked : 100_000;
        int refused = 0;
        for (int number = 0; number < count; number++)
        {
            byte[] file = Mutation.Of(files, number);
            long allocated = GC.GetAllocatedBytesForCurrentThread();
            long started = Stopwatch.GetTimestamp();
            string? fault = Try(file, read, ref refused);
            TimeSpan took = Stopwatch.GetElapsedTime(started);
            allocated = GC.GetAllocatedBytesForCurrentThread() - allocated;
            Assert.True(fault is null, $"Damage {number}: {fault}");
            Assert.True(took < _longest, $"Damage {number} took {took.TotalMilliseconds:0} ms; the limit is {_longest.TotalMilliseconds:0} ms.");
            Assert.True(allocated < MostAllocatedBytes, $"Damage {number} allocated {allocated} bytes; the limit is {MostAllocatedBytes}.");
        }

        // Damage that never matters, or always, would test nothing.
        Assert.InRange(refused, count / 20, count - 1);
    }

    private static string? Try(byte[] file, Func<Stream, Passage> read, ref int refused)
    {
        try
        {
            using MemoryStream stream = new(file, writable: false);
            return PassageRules.Problems(read(stream)) is [string problem, ..] ? $"a passage that breaks a rule was read: {problem}" : null;
        }
        catch (ScoreException refusal)
        {
            refused++;
            bool hasPlace = _placeWords.Any(word => refusal.Place.Contains(word, StringComparison.Ordinal));
            return hasPlace && refusal.Reason.Length > 20 && refusal.Reason.EndsWith('.') ? null : $"the refusal names no place or reason: {refusal.Message}";
        }
        catch (Exception exception) when (exception is not OutOfMemoryException)
        {
            return exception.ToString();
        }
    }
}
