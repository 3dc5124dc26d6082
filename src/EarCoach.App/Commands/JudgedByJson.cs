namespace EarCoach.App.Commands;

/// <summary>How strictly it was judged. Tempo in quarter notes a minute.</summary>
internal sealed record JudgedByJson
{
    public required string Timing { get; init; }

    public string? Level { get; init; }

    public double? Cents { get; init; }

    public required double Ms { get; init; }

    public required double CrackMs { get; init; }

    public required double TempoShare { get; init; }

    /// <summary>Set where timing is judged by rhythm.</summary>
    public double? LongRatio { get; init; }

    /// <summary>Set where timing is judged by rhythm.</summary>
    public double? EvenShare { get; init; }

    public required double TempoBpm { get; init; }

    public required double A4Hz { get; init; }
}
