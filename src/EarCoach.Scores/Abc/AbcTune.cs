namespace EarCoach.Scores.Abc;

/// <summary>A tune to choose from an ABC file.</summary>
/// <param name="Number">Of its X: field.</param>
/// <param name="Title">Its first T: field, or null.</param>
/// <param name="Line">Line of its X: field, counted from 1.</param>
public sealed record AbcTune(int Number, string? Title, int Line);
