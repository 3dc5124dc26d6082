namespace EarCoach.Core.Judging;

/// <summary>What was measured of a note before it is held against tolerances.</summary>
internal readonly record struct MeasuredNote(
    double? OnsetSeconds, double? OffsetSeconds, double? HeardMidi, double? CrackMs, bool Restruck, bool SemitoneOnly);
