using System.Collections.Immutable;

namespace EarCoach.Core.Passages;

/// <summary>Another rhythm to practise a passage in.</summary>
public sealed record RhythmVariant
{
    /// <summary>Short code, for example "2a".</summary>
    public required string Code { get; init; }

    /// <summary>What a player calls it, for example "long-short".</summary>
    public required string Name { get; init; }

    /// <summary>Time of each note of a group until the next, in note values of the even run, where a group takes as long as it did evenly.</summary>
    public required ImmutableArray<Fraction> EqualTotal { get; init; }

    /// <summary>The same where the short notes keep the value of the even run.</summary>
    public required ImmutableArray<Fraction> ShortsAtTarget { get; init; }

    /// <summary>How often each note is struck in a row: 1, or more where the notes are repeated.</summary>
    public int Strikes { get; init; } = 1;

    /// <summary>Every so many notes carries an accent, counted over the run; 0: accents stay as they are.</summary>
    public int AccentEvery { get; init; }

    /// <summary>The first accented note of a run, counted from 0.</summary>
    public int AccentPhase { get; init; }

    /// <summary>Whether the last note of a group is held freely: it gets a fermata, and when the next one comes is not judged.</summary>
    public bool HoldsFreely { get; init; }

    /// <summary>Whether the last note of a group is followed by silence instead of being held.</summary>
    public bool Stops { get; init; }

    /// <summary>How many notes of the passage make a group.</summary>
    public int GroupSize => EqualTotal.Length / Strikes;
}
