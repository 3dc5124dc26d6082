namespace EarCoach.Core.Passages;

/// <summary>From here on the part is written in this transposition: a crook of a natural horn, the old bass clef, a change of instrument.</summary>
/// <param name="At">Quarter notes from the start of the passage.</param>
/// <param name="Transposition">What is added to the written pitch to get the sounding one.</param>
/// <param name="Clef">The clef it stands in; null: the instrument's usual one.</param>
public sealed record TranspositionMark(Fraction At, Transposition Transposition, Clef? Clef = null);
