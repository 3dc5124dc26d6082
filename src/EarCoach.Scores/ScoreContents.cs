using System.Collections.Immutable;

namespace EarCoach.Scores;

/// <summary>What a score holds, to choose from.</summary>
/// <param name="Format">Of the file.</param>
/// <param name="Lines">In the order of the file.</param>
public sealed record ScoreContents(ScoreFormat Format, ImmutableArray<ScoreLine> Lines);
