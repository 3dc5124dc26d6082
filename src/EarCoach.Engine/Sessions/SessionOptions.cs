using EarCoach.Core.Judging;

namespace EarCoach.Engine.Sessions;

/// <summary>Numbers of a session that are no part of a drill.</summary>
public sealed record SessionOptions
{
    /// <summary>How much sound is remembered, in seconds: the longest clip.</summary>
    public double MemorySeconds { get; init; } = 120;

    /// <summary>How much sound is kept before and after an attempt, in seconds; after it, no more than was heard when it was decided.</summary>
    public double ClipMarginSeconds { get; init; } = 0.5;

    /// <summary>How often a live reading is told, in seconds.</summary>
    public double LiveEverySeconds { get; init; } = 0.03;

    /// <summary>Makes the ear of a stream. Tests put a scripted one here.</summary>
    internal Func<int, JudgingTask, ISessionEar> MakeEar { get; init; } = (sampleRateHz, task) => new SessionEar(sampleRateHz, task);

    /// <summary>Every broken rule.</summary>
    public IEnumerable<string> Problems()
    {
        if (!(MemorySeconds is >= 5 and <= 900))
        {
            yield return $"MemorySeconds is {MemorySeconds}; give 5 to 900.";
        }

        if (!(ClipMarginSeconds is >= 0 and <= 5))
        {
            yield return $"ClipMarginSeconds is {ClipMarginSeconds}; give 0 to 5.";
        }

        if (!(LiveEverySeconds is >= 0.01 and <= 1))
        {
            yield return $"LiveEverySeconds is {LiveEverySeconds}; give 0.01 to 1.";
        }
    }
}
