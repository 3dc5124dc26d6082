using System.Globalization;
using EarCoach.Core.Passages;
using EarCoach.Scores.Midi;
using EarCoach.Scores.MusicXml;

namespace EarCoach.EndToEndTests.Running;

/// <summary>Invented files of each format, small enough to be read here.</summary>
internal static class SmallScores
{
    /// <summary>A tune of two bars: C E G c | c G E C, eighths and quarters from middle C.</summary>
    public const string Abc = "X:1\nT:Bridge tune\nM:4/4\nL:1/4\nQ:1/4=100\nK:C\nC E G c | c G E C |]\n";

    /// <summary>Sounding pitches of eight bars of quarter notes, so that bars can be chosen.</summary>
    public static readonly int[] EightBars = [.. Enumerable.Range(0, 32).Select(index => 60 + new[] { 0, 4, 7, 12 }[index % 4] - (index / 16))];

    /// <summary>A passage of quarter notes at 120 a minute.</summary>
    public static Passage Quarters(string title, IEnumerable<int> pitches, string? instrumentId = null) => new()
    {
        Title = title,
        InstrumentId = instrumentId,
        Notes = [.. pitches.Select((pitch, index) => new PassageNote { MidiPitch = pitch, Onset = index, Length = 1 })],
    };

    /// <summary>A MIDI file of one track, without an instrument.</summary>
    public static byte[] Midi(string title, params int[] pitches) => MidiPassageWriter.ToBytes(Quarters(title, pitches));

    /// <summary>A compressed MusicXML file.</summary>
    public static byte[] Mxl(string title, string? instrumentId, params int[] pitches) =>
        MusicXmlPassageWriter.ToBytes(Quarters(title, pitches, instrumentId), new MusicXmlWriteOptions { Compressed = true });

    /// <summary>A MusicXML file, written here by hand, with a part for a horn and one for a clarinet.</summary>
    /// <remarks>Source of the form: MusicXML 4.0, score-partwise; the transpose elements are those of its own examples: horn in F diatonic -4,
    /// chromatic -7; clarinet in A diatonic -2, chromatic -3.</remarks>
    public static string TwoParts { get; } = $"""
        <?xml version="1.0" encoding="UTF-8"?>
        <score-partwise version="4.0">
          <work><work-title>Two parts</work-title></work>
          <part-list>
            <score-part id="P1"><part-name>Horn in F</part-name></score-part>
            <score-part id="P2"><part-name>Clarinet in A</part-name></score-part>
          </part-list>
          <part id="P1"><measure number="5">{Attributes(-4, -7)}{Note("G", 4)}{Note("C", 5)}{Note("E", 5)}{Note("G", 5)}</measure></part>
          <part id="P2"><measure number="5">{Attributes(-2, -3)}{Note("E", 5)}{Note("C", 5)}{Note("G", 4)}{Note("E", 4)}</measure></part>
        </score-partwise>
        """;

    private static string Attributes(int diatonic, int chromatic) => string.Create(
        CultureInfo.InvariantCulture,
        $"<attributes><divisions>1</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef><transpose><diatonic>{diatonic}</diatonic><chromatic>{chromatic}</chromatic></transpose></attributes>");

    private static string Note(string step, int octave) =>
        string.Create(CultureInfo.InvariantCulture, $"<note><pitch><step>{step}</step><octave>{octave}</octave></pitch><duration>1</duration><voice>1</voice><type>quarter</type></note>");
}
