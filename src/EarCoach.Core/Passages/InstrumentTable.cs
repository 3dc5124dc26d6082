using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>The instruments a passage can be for.</summary>
/// <remarks>Transpositions and ranges: common practice; the transpositions are checked by test against a published table. General MIDI programs:
/// General MIDI Level 1 sound set. Ranges are practical ones of good players, extremes in the last two columns of ranges.</remarks>
public static class InstrumentTable
{
    private static readonly Transposition _minorThirdDown = new(-2, -3);
    private static readonly Transposition _secondDown = new(-1, -2);
    private static readonly Transposition _ninthDown = new(-1, -2, -1);
    private static readonly Transposition _fifthDown = new(-4, -7);
    private static readonly Transposition _sixthDown = new(-5, -9);
    private static readonly Transposition _octaveAndSixthDown = new(-5, -9, -1);
    private static readonly Transposition _octaveDown = new(0, 0, -1);

    /// <summary>Every instrument, in the order of a score.</summary>
    public static ImmutableArray<Instrument> All { get; } =
    [
        Row("piccolo", "Piccolo", 74, 108, 74, 108, new Transposition(0, 0, 1), Clef.Treble, 73),
        Row("flute", "Flute", 60, 96, 59, 98, Transposition.None, Clef.Treble, 74),
        Row("alto-flute", "Alto flute", 55, 91, 55, 91, new Transposition(-3, -5), Clef.Treble, 74),
        Row("bass-flute", "Bass flute", 48, 84, 48, 84, _octaveDown, Clef.Treble, 74),
        Row("oboe", "Oboe", 58, 91, 58, 93, Transposition.None, Clef.Treble, 69),
        Row("oboe-damore", "Oboe d'amore", 55, 88, 55, 88, _minorThirdDown, Clef.Treble, 69),
        Row("english-horn", "English horn", 52, 81, 52, 84, _fifthDown, Clef.Treble, 70),
        Row("clarinet-eb", "Clarinet in E flat", 55, 98, 55, 98, new Transposition(2, 3), Clef.Treble, 72),
        Row("clarinet-d", "Clarinet in D", 54, 97, 54, 97, new Transposition(1, 2), Clef.Treble, 72),
        Row("clarinet-c", "Clarinet in C", 52, 96, 52, 96, Transposition.None, Clef.Treble, 72),
        Row("clarinet-bb", "Clarinet in B flat", 50, 91, 50, 94, _secondDown, Clef.Treble, 72),
        Row("clarinet-a", "Clarinet in A", 49, 90, 49, 93, _minorThirdDown, Clef.Treble, 72),
        Row("basset-horn", "Basset horn", 41, 84, 41, 84, _fifthDown, Clef.Treble, 72),
        Row("bass-clarinet", "Bass clarinet in B flat, treble clef", 37, 77, 34, 77, _ninthDown, Clef.Treble, 72),
        Row("bass-clarinet-bass-clef", "Bass clarinet in B flat, bass clef", 37, 77, 34, 77, _secondDown, Clef.Bass, 72),
        Row("bassoon", "Bassoon", 34, 72, 34, 76, Transposition.None, Clef.Bass, 71),
        Row("contrabassoon", "Contrabassoon", 22, 55, 22, 60, _octaveDown, Clef.Bass, 71),
        Row("soprano-sax", "Soprano saxophone in B flat", 56, 88, 56, 88, _secondDown, Clef.Treble, 65),
        Row("alto-sax", "Alto saxophone in E flat", 49, 81, 49, 81, _sixthDown, Clef.Treble, 66),
        Row("tenor-sax", "Tenor saxophone in B flat", 44, 76, 44, 76, _ninthDown, Clef.Treble, 67),
        Row("baritone-sax", "Baritone saxophone in E flat", 37, 69, 36, 69, _octaveAndSixthDown, Clef.Treble, 68),
        Brass("horn-f", "Horn in F", 35, 77, 30, 81, _fifthDown, Clef.Treble, 61),
        Brass("trumpet-c", "Trumpet in C", 52, 82, 52, 86, Transposition.None, Clef.Treble, 57),
        Brass("trumpet-bb", "Trumpet in B flat", 52, 82, 52, 86, _secondDown, Clef.Treble, 57),
        Brass("trumpet-a", "Trumpet in A", 52, 82, 52, 86, _minorThirdDown, Clef.Treble, 57),
        Brass("trumpet-d", "Trumpet in D", 52, 82, 52, 86, new Transposition(1, 2), Clef.Treble, 57),
        Brass("trumpet-eb", "Trumpet in E flat", 52, 82, 52, 86, new Transposition(2, 3), Clef.Treble, 57),
        Brass("trumpet-e", "Trumpet in E", 52, 82, 52, 86, new Transposition(2, 4), Clef.Treble, 57),
        Brass("trumpet-f", "Trumpet in F", 52, 82, 52, 86, new Transposition(3, 5), Clef.Treble, 57),
        Brass("piccolo-trumpet", "Piccolo trumpet in B flat", 62, 91, 62, 91, new Transposition(6, 10), Clef.Treble, 57),
        Brass("cornet", "Cornet in B flat", 52, 82, 52, 82, _secondDown, Clef.Treble, 57),
        Brass("flugelhorn", "Flugelhorn in B flat", 52, 82, 52, 82, _secondDown, Clef.Treble, 57),
        Brass("tenor-horn", "Tenor horn in E flat", 45, 75, 45, 75, _sixthDown, Clef.Treble, 61),
        Brass("euphonium", "Euphonium, bass clef", 40, 70, 34, 77, Transposition.None, Clef.Bass, 58),
        Brass("euphonium-treble", "Euphonium or baritone in B flat, treble clef", 40, 70, 34, 77, _ninthDown, Clef.Treble, 58),
        Brass("trombone", "Trombone", 40, 70, 34, 77, Transposition.None, Clef.Bass, 58),
        Brass("bass-trombone", "Bass trombone", 34, 67, 34, 67, Transposition.None, Clef.Bass, 58),
        Brass("tuba", "Tuba", 26, 65, 26, 65, Transposition.None, Clef.Bass, 59),
        Brass("eb-bass", "E flat bass, treble clef", 29, 63, 29, 63, _octaveAndSixthDown, Clef.Treble, 59),
        Brass("bb-bass", "B flat bass, treble clef", 22, 58, 22, 58, new Transposition(-1, -2, -2), Clef.Treble, 59),
        Row("violin", "Violin", 55, 100, 55, 105, Transposition.None, Clef.Treble, 41),
        Row("viola", "Viola", 48, 88, 48, 88, Transposition.None, Clef.Alto, 42),
        Row("cello", "Cello", 36, 81, 36, 84, Transposition.None, Clef.Bass, 43),
        Row("double-bass", "Double bass", 28, 67, 24, 67, _octaveDown, Clef.Bass, 44),
        Row("guitar", "Guitar", 40, 83, 40, 83, _octaveDown, Clef.Treble, 25),
    ];

    private static readonly ImmutableDictionary<string, Instrument> _byId = All.ToImmutableDictionary(instrument => instrument.Id, StringComparer.Ordinal);

    /// <summary>What a General MIDI program most often stands for; programs of no instrument here are left out.</summary>
    private static readonly ImmutableDictionary<int, string> _usualByProgram = new Dictionary<int, string>
    {
        [25] = "guitar",
        [41] = "violin",
        [42] = "viola",
        [43] = "cello",
        [44] = "double-bass",
        [57] = "trumpet-bb",
        [58] = "trombone",
        [59] = "tuba",
        [61] = "horn-f",
        [65] = "soprano-sax",
        [66] = "alto-sax",
        [67] = "tenor-sax",
        [68] = "baritone-sax",
        [69] = "oboe",
        [70] = "english-horn",
        [71] = "bassoon",
        [72] = "clarinet-bb",
        [73] = "piccolo",
        [74] = "flute",
    }.ToImmutableDictionary();

    /// <summary>The instrument with this id, or null.</summary>
    public static Instrument? ById(string? id) => id is not null && _byId.TryGetValue(id, out Instrument? instrument) ? instrument : null;

    /// <summary>The usual instrument of a General MIDI program, or null.</summary>
    /// <param name="program">1 to 128.</param>
    public static Instrument? ByProgram(int program) => _usualByProgram.TryGetValue(program, out string? id) ? _byId[id] : null;

    private static Instrument Row(
        string id, string name, int lowest, int highest, int extremeLowest, int extremeHighest, Transposition transposition, Clef clef, int program) => new()
        {
            Id = id,
            Name = name,
            Lowest = lowest,
            Highest = highest,
            ExtremeLowest = extremeLowest,
            ExtremeHighest = extremeHighest,
            Transposition = transposition,
            Clef = clef,
            GeneralMidiProgram = program,
        };

    private static Instrument Brass(
        string id, string name, int lowest, int highest, int extremeLowest, int extremeHighest, Transposition transposition, Clef clef, int program) =>
        Row(id, name, lowest, highest, extremeLowest, extremeHighest, transposition, clef, program) with { PartialsLikely = true };
}
