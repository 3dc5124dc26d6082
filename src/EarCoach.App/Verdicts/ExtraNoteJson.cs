using EarCoach.Core.Judging;

namespace EarCoach.App.Verdicts;

/// <summary>A sound that the task lacks.</summary>
/// <param name="Onset">Seconds.</param>
/// <param name="Midi">Fractional MIDI number, sounding.</param>
/// <param name="AfterIndex">The note of the task within or after which it sounded.</param>
internal sealed record ExtraNoteJson(double Onset, double Midi, int AfterIndex)
{
    /// <summary>An extra note.</summary>
    public static ExtraNoteJson Of(ExtraNote extra) => new(Rounded.To(extra.OnsetSeconds, 4), Rounded.To(extra.HeardMidi, 2), extra.AfterIndex);
}
