namespace EarCoach.App.Web.Messages;

/// <summary>A number, or a choice, of a drill or of the strictness, as the page asks for it.</summary>
internal sealed record PageNumber
{
    public required string Id { get; init; }

    public required string Name { get; init; }

    /// <summary>The usual value: a number, or the id of a choice; null where nothing is usual.</summary>
    public object? Value { get; init; }

    public double? Least { get; init; }

    public double? Most { get; init; }

    public double? Step { get; init; }

    /// <summary>What leaving it empty means; null where it has to be given.</summary>
    public string? Empty { get; init; }

    public IReadOnlyList<PageChoice>? Choices { get; init; }
}
