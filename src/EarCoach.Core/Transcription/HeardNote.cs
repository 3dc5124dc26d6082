namespace EarCoach.Core.Transcription;

/// <summary>A note as it was heard, without any score.</summary>
/// <param name="OnsetSample">Where it begins on the capture clock: where its level rises or, slurred, where its pitch takes over.</param>
/// <param name="OffsetSample">Where it ends.</param>
/// <param name="Midi">Median pitch as a fractional MIDI number at A4 = 440 Hz.</param>
/// <param name="LevelDbfs">Highest level, in dB relative to full scale.</param>
/// <param name="Slurred">Whether it followed the note before without a new attack.</param>
public readonly record struct HeardNote(long OnsetSample, long OffsetSample, float Midi, float LevelDbfs, bool Slurred)
{
    /// <summary>The nearest semitone.</summary>
    public int NearestMidi => (int)MathF.Round(Midi);

    /// <summary>How far the pitch lies above the nearest semitone, in cents; negative: below.</summary>
    public float Cents => 100 * (Midi - NearestMidi);
}
