namespace EarCoach.Core.Passages;

/// <summary>A pitch as written on paper.</summary>
/// <param name="Step">The letter, 'A' to 'G'.</param>
/// <param name="Alter">Semitones added by the accidental: -2 (double flat) to 2 (double sharp).</param>
/// <param name="Octave">Scientific pitch octave: middle C is C4.</param>
public readonly record struct PitchSpelling(char Step, int Alter, int Octave);
