using CsCheck;
using EarCoach.Core.Passages;
using EarCoach.Core.Tests.Passages;
using EarCoach.Scores.Midi;
using FluentAssertions;
using Xunit;

namespace EarCoach.Scores.Tests.Midi;

public sealed class MidiRoundTripTests
{
    /// <summary>A track of any line of notes, tempi, metres and keys at any tick, built from the standard's text.</summary>
    private static readonly Gen<byte[]> _file =
        from division in Gen.OneOf(24, 96, 120, 480, 960, 1001, 32_767)
        from notes in Gen.Select(Gen.Int[0, 127], Gen.Int[1, 4000], Gen.OneOf(Gen.Const(0), Gen.Int[0, 2000])).Array[1, 30]
        from marks in Gen.Select(Gen.Int[0, 2], Gen.Int[1, 2_000_000], Gen.Int[0, 6]).Array[30]
        select SmfBytes.File(0, division, Track(notes, marks));

    [Fact]
    public void MidiToPassageToMidiToPassage_KeepsEverything() => _file.Sample(
        file =>
        {
            Passage first = MidiPassageReaderTests.Read(file);
            foreach (int format in new[] { 0, 1 })
            {
                byte[] written = MidiPassageWriter.ToBytes(first, new MidiWriteOptions { Format = format, Channel = 5 });
                PassageText.Of(MidiPassageReaderTests.Read(written)).Should().Be(PassageText.Of(first));
            }
        },
        iter: 2000);

    [Fact]
    public void PassageToMidiToPassage_KeepsEverything() => PassageGen.Plain.Sample(
        passage => PassageText.Of(MidiPassageReaderTests.Read(MidiPassageWriter.ToBytes(passage))).Should().Be(PassageText.Of(passage)),
        iter: 2000);

    [Fact]
    public void ToBytes_LongTripletPickup_ComesBack()
    {
        Passage passage = Passage() with { Pickup = new Fraction(8, 3) };

        PassageText.Of(MidiPassageReaderTests.Read(MidiPassageWriter.ToBytes(passage))).Should().Be(PassageText.Of(passage));
    }

    [Fact]
    public void ToBytes_AnInstrument_ComesBackByItsProgram()
    {
        Passage passage = Passage() with { InstrumentId = "horn-f" };

        MidiPassageReaderTests.Read(MidiPassageWriter.ToBytes(passage)).InstrumentId.Should().Be("horn-f");
        MidiPassageReaderTests.Read(MidiPassageWriter.ToBytes(passage), new MidiReadOptions { InstrumentId = "tuba" }).InstrumentId.Should().Be("tuba");
    }

    [Theory]
    [InlineData(3.5)]
    [InlineData(200_000_000)]
    public void ToBytes_TempoOutOfReach_IsRefusedWithItsPlace(double tempo)
    {
        Passage passage = Passage() with { Tempi = [new TempoMark(Fraction.Zero, 90), new TempoMark(Fraction.One, tempo)] };

        FluentActions.Invoking(() => MidiPassageWriter.ToBytes(passage)).Should().Throw<ScoreException>()
            .Where(e => e.Failure == ScoreFailure.NotWritable && e.Place == "bar 1, beat 2");
    }

    [Fact]
    public void ToBytes_NoteValuesTooFineForTicks_AreRefused()
    {
        Passage passage = Passage() with { Notes = [new PassageNote { MidiPitch = 60, Onset = new Fraction(1, 509), Length = new Fraction(1, 499) }] };

        FluentActions.Invoking(() => MidiPassageWriter.ToBytes(passage)).Should().Throw<ScoreException>().Where(e => e.Failure == ScoreFailure.NotWritable);
    }

    [Fact]
    public void ToBytes_BrokenPassage_IsTheCallersMistake() =>
        FluentActions.Invoking(() => MidiPassageWriter.ToBytes(Passage() with { Notes = [] })).Should().Throw<ArgumentException>().WithMessage("*no notes*");

    private static Passage Passage() => new()
    {
        Title = "Study",
        Notes = [new PassageNote { MidiPitch = 60, Onset = Fraction.Zero, Length = new Fraction(8, 3) }, new PassageNote { MidiPitch = 62, Onset = new Fraction(8, 3), Length = 2 }],
    };

    private static byte[] Track((int Pitch, int Length, int Silence)[] notes, (int Kind, int Value, int Power)[] marks)
    {
        SmfBytes track = new();
        for (int index = 0; index < notes.Length; index++)
        {
            track = marks[index].Kind switch
            {
                0 => track.Tempo(0, marks[index].Value),
                1 => track.Meter(0, 1 + (marks[index].Value % 255), marks[index].Power),
                _ => track.Key(0, (marks[index].Value % 15) - 7),
            };
            track = track.Note(notes[index].Pitch, notes[index].Length, notes[index].Silence);
        }

        return track.End();
    }
}
