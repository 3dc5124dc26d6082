using EarCoach.Core.Passages;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Passages;

public sealed class InstrumentTableTests
{
    // Source: published transposition tables, classical set at studystack.com/flashcard-697185 (horn a fifth lower, alto saxophone a major sixth,
    // tenor a ninth, English horn a fifth, clarinets a second and a third, piccolo an octave higher, double bass an octave lower) and the
    // orchestral librarians' table at orchestralibrary.com/reftables/rang.html (alto flute a fourth lower, oboe d'amore a third, bass clarinet a
    // ninth in treble and a second in bass clef). Rows in neither: common practice.
    [Theory]
    [InlineData("piccolo", 12)]
    [InlineData("flute", 0)]
    [InlineData("alto-flute", -5)]
    [InlineData("bass-flute", -12)]
    [InlineData("oboe", 0)]
    [InlineData("oboe-damore", -3)]
    [InlineData("english-horn", -7)]
    [InlineData("clarinet-eb", 3)]
    [InlineData("clarinet-d", 2)]
    [InlineData("clarinet-c", 0)]
    [InlineData("clarinet-bb", -2)]
    [InlineData("clarinet-a", -3)]
    [InlineData("basset-horn", -7)]
    [InlineData("bass-clarinet", -14)]
    [InlineData("bass-clarinet-bass-clef", -2)]
    [InlineData("bassoon", 0)]
    [InlineData("contrabassoon", -12)]
    [InlineData("soprano-sax", -2)]
    [InlineData("alto-sax", -9)]
    [InlineData("tenor-sax", -14)]
    [InlineData("baritone-sax", -21)]
    [InlineData("horn-f", -7)]
    [InlineData("trumpet-c", 0)]
    [InlineData("trumpet-bb", -2)]
    [InlineData("trumpet-a", -3)]
    [InlineData("trumpet-d", 2)]
    [InlineData("trumpet-eb", 3)]
    [InlineData("trumpet-e", 4)]
    [InlineData("trumpet-f", 5)]
    [InlineData("piccolo-trumpet", 10)]
    [InlineData("cornet", -2)]
    [InlineData("flugelhorn", -2)]
    [InlineData("tenor-horn", -9)]
    [InlineData("euphonium", 0)]
    [InlineData("euphonium-treble", -14)]
    [InlineData("trombone", 0)]
    [InlineData("bass-trombone", 0)]
    [InlineData("tuba", 0)]
    [InlineData("eb-bass", -21)]
    [InlineData("bb-bass", -26)]
    [InlineData("violin", 0)]
    [InlineData("viola", 0)]
    [InlineData("cello", 0)]
    [InlineData("double-bass", -12)]
    [InlineData("guitar", -12)]
    public void Transposition_OfEachInstrument_IsThePublishedOne(string id, int soundingMinusWritten) =>
        InstrumentTable.ById(id)!.Transposition.Semitones.Should().Be(soundingMinusWritten);

    [Fact]
    public void EveryInstrument_IsInTheTableOfTranspositions() => InstrumentTable.All.Should().HaveCount(45).And.OnlyHaveUniqueItems(i => i.Id);

    // Source: orchestralibrary.com/reftables/rang.html for the strings' and woodwinds' lowest notes (open strings G3, C3, C2 and E1; flute C4, oboe
    // B flat 3, bassoon B flat 1); common practice for the rest.
    [Theory]
    [InlineData("violin", "G3")]
    [InlineData("viola", "C3")]
    [InlineData("cello", "C2")]
    [InlineData("double-bass", "E1")]
    [InlineData("flute", "C4")]
    [InlineData("oboe", "Bb3")]
    [InlineData("bassoon", "Bb1")]
    [InlineData("clarinet-bb", "D3")]
    [InlineData("piccolo", "D5")]
    public void Lowest_OfEachInstrument_IsThePublishedOne(string id, string lowest) =>
        PitchSpelling.FromMidi(InstrumentTable.ById(id)!.Lowest).ToString().Should().Be(lowest);

    // A transposition is an interval: its steps and semitones must name one (a second has 1 step and 1 or 2 semitones, ...). The nearest number of
    // steps to 7/12 of the semitones is the plain interval; only the tritone is ambiguous.
    [Fact]
    public void Transposition_OfEachInstrumentAndCrook_IsAMajorMinorOrPerfectInterval()
    {
        int[] plain = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6];
        IEnumerable<Transposition> all = InstrumentTable.All.Select(i => i.Transposition).Concat(HornCrooks.All.Select(c => c.Transposition));
        foreach (Transposition transposition in all)
        {
            int semitones = Math.Abs(transposition.Semitones);
            int steps = ((semitones / 12) * 7) + plain[semitones % 12];
            Math.Abs(transposition.StaffSteps).Should().BeOneOf(steps, semitones % 12 == 6 ? steps + 1 : steps);
        }
    }

    [Fact]
    public void EveryInstrument_HasARangeInsideWhatTheEarReaches()
    {
        foreach (Instrument instrument in InstrumentTable.All)
        {
            instrument.ExtremeLowest.Should().BeLessThanOrEqualTo(instrument.Lowest, instrument.Id);
            instrument.Highest.Should().BeGreaterThan(instrument.Lowest + 24, instrument.Id);
            instrument.ExtremeHighest.Should().BeInRange(instrument.Highest, 108, instrument.Id);
            instrument.EarLowest.Should().BeLessThan(instrument.ExtremeLowest, instrument.Id);
            instrument.GeneralMidiProgram.Should().BeInRange(1, 128);
        }
    }

    // Source: General MIDI Level 1 sound set: 41 Violin, 57 Trumpet, 58 Trombone, 59 Tuba, 61 French Horn, 66 Alto Sax, 69 Oboe, 71 Bassoon,
    // 72 Clarinet, 73 Piccolo, 74 Flute.
    [Theory]
    [InlineData(41, "violin")]
    [InlineData(57, "trumpet-bb")]
    [InlineData(58, "trombone")]
    [InlineData(59, "tuba")]
    [InlineData(61, "horn-f")]
    [InlineData(66, "alto-sax")]
    [InlineData(69, "oboe")]
    [InlineData(71, "bassoon")]
    [InlineData(72, "clarinet-bb")]
    [InlineData(73, "piccolo")]
    [InlineData(74, "flute")]
    public void ByProgram_GeneralMidiPrograms_NameTheUsualInstrument(int program, string id)
    {
        InstrumentTable.ByProgram(program)!.Id.Should().Be(id);
        InstrumentTable.ById(id)!.GeneralMidiProgram.Should().Be(program);
    }

    [Fact]
    public void ByProgram_APiano_IsNoInstrumentHere() => InstrumentTable.ByProgram(1).Should().BeNull();

    [Theory]
    [InlineData("horn", "horn-f")]
    [InlineData("Horn in F", "horn-f")]
    [InlineData("HORN-F", "horn-f")]
    [InlineData("Clarinet in B♭", "clarinet-bb")]
    [InlineData("Bb Clarinet", "clarinet-bb")]
    [InlineData("A Clarinet", "clarinet-a")]
    [InlineData("alto sax", "alto-sax")]
    [InlineData("altosax", "alto-sax")]
    [InlineData("Eb bass", "eb-bass")]
    [InlineData("Cor anglais", "english-horn")]
    public void Find_WaysToNameAnInstrument_FindIt(string name, string id) =>
        InstrumentSearch.Find(name).Should().HaveCount(1).And.OnlyContain(instrument => instrument.Id == id);

    [Fact]
    public void Find_AmbiguousOrUnknownNames_GiveSeveralOrNone()
    {
        InstrumentSearch.Find("bass").Select(i => i.Id).Should().Contain(["bass-flute", "bassoon", "bass-trombone"]);
        InstrumentSearch.Find("theremin").Should().BeEmpty();
        InstrumentSearch.Find(" ").Should().BeEmpty();
    }
}
