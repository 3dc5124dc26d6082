using System.Collections.Immutable;
using EarCoach.Core.Passages;

namespace EarCoach.Engine.Ports;

/// <summary>A passage in the player's library.</summary>
public sealed record LibraryPassage
{
    /// <summary>Its name for the program.</summary>
    public required Guid Id { get; init; }

    /// <summary>The notes.</summary>
    public required Passage Passage { get; init; }

    /// <summary>When it was added.</summary>
    public required DateTimeOffset AddedAt { get; init; }

    /// <summary>Words of the player to find it by.</summary>
    public ImmutableArray<string> Tags { get; init; } = [];

    /// <summary>The tempo to reach, in quarter notes a minute; null: the passage's own.</summary>
    public double? GoalQuartersPerMinute { get; init; }

    /// <summary>When it is to be performed; null: not known.</summary>
    public DateOnly? PerformanceDate { get; init; }

    /// <summary>How strictly it is judged where the player's level does not say it; null: as the level says.</summary>
    public PassageStrictness? Strictness { get; init; }

    /// <summary>The part in the library that it was cut from; null: it is a whole. The part may have been deleted or changed since.</summary>
    public Guid? PartId { get; init; }

    /// <summary>Which notes of that part it was.</summary>
    public NoteRange? PartNotes { get; init; }

    /// <summary>Whether it came with the program.</summary>
    public bool IsDemo { get; init; }
}
