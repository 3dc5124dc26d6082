using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>A few bars for one single-line instrument: what an attempt is held against. All pitches are sounding pitches.</summary>
public sealed record Passage
{
    /// <summary>What the player calls it.</summary>
    public required string Title { get; init; }

    /// <summary>The notes in order of onset; no two overlap.</summary>
    public required ImmutableArray<PassageNote> Notes { get; init; }

    /// <summary>Id of the instrument it is for (see the instrument table), or null when not known.</summary>
    public string? InstrumentId { get; init; }

    /// <summary>Tempo marks in order; the first at 0. Where the source has none: 120 quarter notes a minute, the MIDI default.</summary>
    public ImmutableArray<TempoMark> Tempi { get; init; } = [new TempoMark(Fraction.Zero, 120)];

    /// <summary>Metre marks in order; the first at 0. Where the source has none: 4/4.</summary>
    public ImmutableArray<MeterMark> Meters { get; init; } = [new MeterMark(Fraction.Zero, 4, 4)];

    /// <summary>Quarter notes before the first full bar; 0 when the passage begins on a bar line.</summary>
    public Fraction Pickup { get; init; }

    /// <summary>Number of the first full bar, as in the part.</summary>
    public int FirstBarNumber { get; init; } = 1;

    /// <summary>Key signature: sharps positive, flats negative, at sounding pitch.</summary>
    public int KeyFifths { get; init; }

    /// <summary>Transpositions of the written part, in order; empty where the instrument's own holds throughout. Sounding pitches do not depend on it.</summary>
    public ImmutableArray<TranspositionMark> Transpositions { get; init; } = [];

    /// <summary>Where the last note ends, in quarter notes from the start of the passage; 0 without notes.</summary>
    public Fraction End => Notes.IsDefaultOrEmpty ? Fraction.Zero : Notes[^1].End;
}
