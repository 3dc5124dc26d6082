using EarCoach.Core.Judging;
using EarCoach.Core.Passages;

namespace EarCoach.App.Verdicts;

/// <summary>One note of the task as it was heard, for the page and for files alike. Seconds; cents positive sharp, milliseconds positive late.</summary>
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

    /// <summary>A note at its place in the passage.</summary>
    public static NoteJson Of(NoteResult note, BarPosition place) => new()
    {
        Index = note.Index,
        Midi = note.MidiPitch,
        Bar = place.Bar,
        Beat = Rounded.To(place.Beat.ToDouble(), 4),
        Onset = Rounded.To(note.OnsetSeconds, 4),
        Offset = Rounded.To(note.OffsetSeconds, 4),
        HeardMidi = Rounded.To(note.HeardMidi, 3),
        CentsOff = Rounded.To(note.CentsOff, 1),
        MsOff = Rounded.To(note.MsOff, 1),
        CrackMs = Rounded.To(note.CrackMs, 0),
        SemitoneOnly = note.SemitoneOnly,
        Faults = [.. note.Faults.Select(FaultNames.Of)],
    };
}
