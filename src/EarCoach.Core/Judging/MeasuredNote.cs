namespace EarCoach.Core.Judging;

/// <summary>What was measured of a note before it is held against tolerances.</summary>
/// <param name="OnsetSeconds">Where it begins; null when it is missing.</param>
/// <param name="FirstSeconds">From where on its pitch is heard.</param>
/// <param name="OffsetSeconds">Where it ends.</param>
/// <param name="HeardMidi">Median of its steady part.</param>
/// <param name="DoubtCents">How far the pitch may lie from that: it wanders, or the note is short.</param>
/// <param name="CrackMs">How long another pitch sounded first; null for none.</param>
/// <param name="Restruck">Whether it was struck again.</param>
/// <param name="SemitoneOnly">Whether too little of it is steady for its cents to be judged.</param>
/// <param name="RiseSeconds">From where on harmonics are heard that only it has, not those of the note before; null where that is not known.</param>
/// <param name="BreakSeconds">Where it breaks to another pitch within; null where it does not.</param>
/// <param name="LinesAgree">Whether the lines of its spectrum, too, lie nearer to another semitone than to its own.</param>
internal readonly record struct MeasuredNote(
    double? OnsetSeconds, double FirstSeconds, double? OffsetSeconds, double? HeardMidi, double DoubtCents, double? CrackMs, bool Restruck, bool SemitoneOnly,
    double? RiseSeconds = null, double? BreakSeconds = null, bool LinesAgree = false)
{
    /// <summary>Farther off, another semitone is nearer.</summary>
    public const double HalfSemitoneCents = 50;

    private const double SurelyOtherCents = 65;

    /// <summary>Beyond so many cents it is said to be another semitone.</summary>
    public double OtherSemitoneCents => SemitoneOnly && !LinesAgree ? SurelyOtherCents : HalfSemitoneCents;
}
