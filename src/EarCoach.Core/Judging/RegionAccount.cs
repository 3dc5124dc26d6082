namespace EarCoach.Core.Judging;

/// <summary>What a region holds, before its notes are measured.</summary>
internal sealed record RegionAccount(RegionEvidence Evidence, IReadOnlyList<AttemptPath> Attempts);
