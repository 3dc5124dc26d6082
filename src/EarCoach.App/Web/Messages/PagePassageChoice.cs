namespace EarCoach.App.Web.Messages;

/// <summary>A passage that can be chosen.</summary>
internal sealed record PagePassageChoice
{
    public required Guid Id { get; init; }

    public required string Name { get; init; }

    public required string Instrument { get; init; }

    public required int Notes { get; init; }

    public required int Bars { get; init; }

    public required double QuartersPerMinute { get; init; }

    public required int Transposition { get; init; }

    /// <summary>Address of a recording of it that came with the program; null where there is none.</summary>
    public string? DemoRecording { get; init; }
}
