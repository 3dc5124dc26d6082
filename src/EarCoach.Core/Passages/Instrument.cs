namespace EarCoach.Core.Passages;

/// <summary>An instrument: what it can sound, how its part is written, and what the ear should expect of it.</summary>
public sealed record Instrument
{
    private const int EarMarginSemitones = 4;

    /// <summary>Stable id, for example "horn-f".</summary>
    public required string Id { get; init; }

    /// <summary>English name, for example "Horn in F".</summary>
    public required string Name { get; init; }

    /// <summary>Lowest sounding MIDI number of the practical range.</summary>
    public required int Lowest { get; init; }

    /// <summary>Highest sounding MIDI number of the practical range.</summary>
    public required int Highest { get; init; }

    /// <summary>Lowest sounding MIDI number that some players or instruments reach.</summary>
    public required int ExtremeLowest { get; init; }

    /// <summary>Highest sounding MIDI number that some players or instruments reach.</summary>
    public required int ExtremeHighest { get; init; }

    /// <summary>What is added to the written pitch to get the sounding one.</summary>
    public required Transposition Transposition { get; init; }

    /// <summary>The usual clef of the part.</summary>
    public required Clef Clef { get; init; }

    /// <summary>General MIDI Level 1 program, 1 to 128, that comes nearest.</summary>
    public required int GeneralMidiProgram { get; init; }

    /// <summary>Whether a note is likely to break to a neighbouring partial of the same tube length: brass.</summary>
    public bool PartialsLikely { get; init; }

    /// <summary>The lowest MIDI number the ear's windows must reach: a little below what the instrument can play.</summary>
    public int EarLowest => ExtremeLowest - EarMarginSemitones;

    /// <summary>The highest MIDI number the ear's windows must reach: a little above what the instrument can play.</summary>
    public int EarHighest => ExtremeHighest + EarMarginSemitones;
}
