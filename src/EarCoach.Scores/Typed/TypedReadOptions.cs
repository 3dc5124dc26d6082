namespace EarCoach.Scores.Typed;

/// <summary>What is said beside the notes of a typed passage.</summary>
public sealed record TypedReadOptions
{
    /// <summary>4/4, 120 quarter notes a minute, no sharps or flats.</summary>
    public static TypedReadOptions Default { get; } = new();

    /// <summary>Title of the passage.</summary>
    public string Title { get; init; } = "Untitled";

    /// <summary>Upper number of the metre.</summary>
    public int Beats { get; init; } = 4;

    /// <summary>Lower number of the metre.</summary>
    public int BeatType { get; init; } = 4;

    /// <summary>Quarter notes a minute.</summary>
    public double QuartersPerMinute { get; init; } = 120;

    /// <summary>Key signature as typed: sharps positive, flats negative. It only says how the part is printed; each note names its own accidental.</summary>
    public int KeyFifths { get; init; }

    /// <summary>Number of the first full bar.</summary>
    public int FirstBarNumber { get; init; } = 1;
}
