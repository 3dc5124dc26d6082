using EarCoach.Core.Judging;

namespace EarCoach.App.Commands;

/// <summary>Writes what `judge` finds.</summary>
internal interface IJudgeWriter
{
    /// <summary>Before the first attempt.</summary>
    void Begin(TextWriter output);

    /// <summary>An attempt was decided.</summary>
    void Attempt(TextWriter output, AttemptResult attempt, int number);

    /// <summary>The sound has ended.</summary>
    void End(TextWriter output);
}
