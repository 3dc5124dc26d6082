using CsCheck;
using EarCoach.Core.Passages;
using EarCoach.Core.Tests.Passages;
using EarCoach.Scores.MusicXml;
using FluentAssertions;
using Xunit;

namespace EarCoach.Scores.Tests.MusicXml;

public sealed class MusicXmlRoundTripTests
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void PassageToMusicXmlAndBack_KeepsEverything(bool compressed) => PassageGen.Marked.Sample(
        passage =>
        {
            Passage first = RoundTrip(passage, compressed);

            // A written key signature beyond seven sharps or flats comes back as its enharmonic equal; the page's spelling is new.
            ((first.KeyFifths - passage.KeyFifths) % 12).Should().Be(0);
            Passage expected = passage with
            {
                KeyFifths = first.KeyFifths,
                Notes = [.. passage.Notes.Zip(first.Notes, (note, read) => note with { WrittenSpelling = read.WrittenSpelling })],
            };
            PassageText.Of(first).Should().Be(PassageText.Of(expected));
            first.Notes.Should().OnlyContain(note => note.WrittenSpelling != null);
            PassageText.Of(RoundTrip(first, compressed)).Should().Be(PassageText.Of(first));
        },
        iter: 300);

    [Fact]
    public void CrooksAndOldBassClef_ComeBackWithTheirMarks()
    {
        HornCrook crook = HornCrooks.Meant("E flat").Single();
        Passage passage = new()
        {
            Title = "Crooks",
            InstrumentId = "horn-f",
            KeyFifths = -3,
            Notes = [.. Enumerable.Range(0, 9).Select(index => new PassageNote { MidiPitch = 50 + index, Onset = index, Length = 1 })],
            Transpositions = [new TranspositionMark(0, crook.Transposition), new TranspositionMark(6, crook.OldBassClef)],
        };

        Passage read = RoundTrip(passage, compressed: false);

        read.Transpositions.Should().Equal(passage.Transpositions);
        read.Notes.Select(note => note.MidiPitch).Should().Equal(passage.Notes.Select(note => note.MidiPitch));
        WrittenPitch.Of(read, read.Notes[1]).ToString().Should().Be("C4");
        WrittenPitch.Of(read, read.Notes[6]).ToString().Should().Be("F3");
    }

    [Fact]
    public void ExcerptsAndVariants_AreWrittenToo() =>
        Gen.Select(PassageGen.Marked, Gen.Int[0, RhythmVariants.All.Length - 1]).Sample((passage, which) =>
        {
            RhythmVariant variant = RhythmVariants.All[which];
            Passage varied = RhythmVariation.Apply(Excerpt.OfNotes(passage, new NoteRange(passage.Notes.Length / 2, passage.Notes.Length - 1)), variant, VariantScaling.EqualTotal);
            Passage read = RoundTrip(varied, compressed: false);
            read.Notes.Select(note => (note.MidiPitch, note.Onset, note.Length, note.SlurredFromPrevious))
                .Should().Equal(varied.Notes.Select(note => (note.MidiPitch, note.Onset, note.Length, note.SlurredFromPrevious)));
        });

    private static Passage RoundTrip(Passage passage, bool compressed)
    {
        using MemoryStream stream = new(MusicXmlPassageWriter.ToBytes(passage, new MusicXmlWriteOptions { Compressed = compressed }));
        ScoreReading reading = MusicXmlPassageReader.Read(stream);
        reading.Remarks.Should().BeEmpty();
        return reading.Passage;
    }
}
