namespace EarCoach.App.Commands;

/// <summary>One note of the passage as it was heard. Cents positive sharp, milliseconds positive late.</summary>
internal sealed record NoteJson
{
    public required int Index { get; init; }

    public required int Midi { get; init; }

    public required int Bar { get; init; }

    public required double Beat { get; init; }

    public double? Onset { get; init; }

    public double? Offset { get; init; }

    public double? HeardMidi { get; init; }

    public double? CentsOff { get; init; }

    public double? MsOff { get; init; }

    public double? CrackMs { get; init; }

    public required bool SemitoneOnly { get; init; }

    public required IReadOnlyList<string> Faults { get; init; }
}
