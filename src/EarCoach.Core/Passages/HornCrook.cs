namespace EarCoach.Core.Passages;

/// <summary>What "Horn in ..." at the head of an older part means.</summary>
/// <param name="Id">Stable id, for example "eb" or "bb-basso".</param>
/// <param name="Name">For example "Horn in E flat".</param>
/// <param name="Transposition">What is added to the written pitch in treble clef, or in bass clef of the new notation.</param>
public sealed record HornCrook(string Id, string Name, Transposition Transposition)
{
    /// <summary>The transposition of notes in bass clef of the old notation: written an octave lower, so they sound an octave higher than otherwise.</summary>
    /// <remarks>Until about the middle of the 20th century, and now and then after it. Common practice. For a horn in F that is a fourth up
    /// instead of a fifth down.</remarks>
    public Transposition OldBassClef => Transposition.OctaveChange < 0
        ? Transposition with { OctaveChange = Transposition.OctaveChange + 1 }
        : new Transposition(Transposition.Diatonic + 7, Transposition.Chromatic + 12);
}
