using CsCheck;
using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Passages;

public sealed class WrittenPitchTests
{
    // Common practice: a horn in F reads a fifth higher (one sharp more), a clarinet in A a minor third higher (three flats more), an alto
    // saxophone a major sixth higher (three sharps more), a double bass an octave higher in the same key.
    [Theory]
    [InlineData("horn-f", 60, 0, "G4", 1)]
    [InlineData("horn-f", 58, -3, "F4", -2)]
    [InlineData("clarinet-a", 69, 3, "C5", 0)]
    [InlineData("clarinet-a", 61, 0, "E4", -3)]
    [InlineData("clarinet-bb", 70, -2, "C5", 0)]
    [InlineData("alto-sax", 61, 0, "A#4", 3)]
    [InlineData("double-bass", 40, 1, "E3", 1)]
    [InlineData("piccolo", 96, 0, "C6", 0)]
    [InlineData("bb-bass", 34, -2, "C4", 0)]
    [InlineData("alto-sax", 59, 5, "Ab4", -4)] // B major becomes G sharp major, eight sharps: written in A flat
    public void Spell_ForATransposingInstrument_IsWhatItsPlayerReads(string id, int midi, int key, string written, int writtenKey)
    {
        Transposition transposition = InstrumentTable.ById(id)!.Transposition;

        WrittenPitch.Spell(midi, key, transposition).ToString().Should().Be(written);
        WrittenPitch.KeyFifths(key, transposition).Should().Be(writtenKey);
    }

    // Common practice: the seven notes of a major key, and the raised seventh of its relative minor.
    [Theory]
    [InlineData(0, "C4 D4 E4 F4 G4 A4 B4", 68, "G#4")]
    [InlineData(2, "C#4 D4 E4 F#4 G4 A4 B4", 70, "A#4")]
    [InlineData(-3, "C4 D4 Eb4 F4 G4 Ab4 Bb4", 71, "B4")]
    [InlineData(7, "C#4 D#4 E#4 F#4 G#4 A#4 B#4", 69, "G##4")]
    [InlineData(-7, "Cb4 Db4 Eb4 Fb4 Gb4 Ab4 Bb4", 67, "G4")]
    public void FromMidi_NotesOfAKey_AreSpelledInIt(int key, string scale, int leadingNote, string leadingName)
    {
        string[] expected = scale.Split(' ');
        string[] actual = [.. Enumerable.Range(59, 14).Select(midi => PitchSpelling.FromMidi(midi, key).ToString()).Where(expected.Contains)];

        actual.Order().Should().Equal(expected.Order());
        PitchSpelling.FromMidi(leadingNote, key).ToString().Should().Be(leadingName);
    }

    [Fact]
    public void FromMidi_AnyPitchAndKey_SoundsAsThatPitch() => Gen.Select(Gen.Int[0, 127], Gen.Int[-7, 7]).Sample((midi, key) =>
        PitchSpelling.FromMidi(midi, key).MidiPitch == midi && Math.Abs(PitchSpelling.FromMidi(midi, key).Alter) <= 2);

    [Fact]
    public void Spell_AnyPitchKeyAndTransposition_SoundsAsThatPitch() =>
        Gen.Select(Gen.Int[36, 96], Gen.Int[-7, 7], Gen.Int[0, InstrumentTable.All.Length - 1]).Sample((midi, key, index) =>
        {
            Transposition transposition = InstrumentTable.All[index].Transposition;
            return WrittenPitch.Spell(midi, key, transposition).MidiPitch + transposition.Semitones == midi
                && WrittenPitch.KeyFifths(key, transposition) is >= -7 and <= 7;
        });

    [Fact]
    public void Of_ACrookAndOldBassClefInOnePassage_FollowsEachMark()
    {
        HornCrook eFlat = HornCrooks.Meant("Eb").Single();
        Passage passage = new()
        {
            Title = "Crooks",
            InstrumentId = "horn-f",
            Notes = [Note(0), Note(1), Note(2)],
            Transpositions = [new TranspositionMark(1, eFlat.Transposition), new TranspositionMark(2, eFlat.OldBassClef)],
        };

        passage.Notes.Select(note => WrittenPitch.Of(passage, note).ToString()).Should().Equal("Bb3", "C4", "C3");

        static PassageNote Note(int onset) => new() { MidiPitch = 51, Onset = onset, Length = 1 };
    }

    [Fact]
    public void Of_ASpellingOfTheSource_IsKeptWhereItSoundsRight()
    {
        PassageNote note = new() { MidiPitch = 61, Onset = 0, Length = 1, WrittenSpelling = new PitchSpelling('D', -1, 4) };
        Passage passage = new() { Title = "Spelling", Notes = [note], KeyFifths = 4 };

        WrittenPitch.Of(passage, note).ToString().Should().Be("Db4");
        WrittenPitch.Of(passage, note with { MidiPitch = 60 }).ToString().Should().Be("B#3");
    }
}
