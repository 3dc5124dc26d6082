using System.Collections.Immutable;
using EarCoach.Core.Passages;

namespace EarCoach.Scores;

/// <summary>A passage that was read, and what the player should know about how.</summary>
/// <param name="Passage">The passage.</param>
/// <param name="Remarks">What was left out or read in a plainer way than it is printed, each with its place.</param>
public sealed record ScoreReading(Passage Passage, ImmutableArray<string> Remarks);
