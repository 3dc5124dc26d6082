namespace EarCoach.App.Web.Messages;

/// <summary>One note of an attempt.</summary>
internal sealed record PageNote
{
    public required int Index { get; init; }

    /// <summary>Which of the notes shown it is, from 0.</summary>
    public required int Shown { get; init; }

    public required int Midi { get; init; }

    public double? Onset { get; init; }

    public double? Offset { get; init; }

    public double? HeardMidi { get; init; }

    public double? CentsOff { get; init; }

    public double? MsOff { get; init; }

    public double? CrackMs { get; init; }

    public required IReadOnlyList<string> Faults { get; init; }
}
