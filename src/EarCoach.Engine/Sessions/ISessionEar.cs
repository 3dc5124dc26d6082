using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;

namespace EarCoach.Engine.Sessions;

/// <summary>What a session asks of an ear.</summary>
internal interface ISessionEar
{
    LiveReading Live { get; }

    void Hear(AudioBlock block);

    void SetTask(JudgingTask task);

    void ExpectCue(ImmutableArray<double> tonesHz, long untilSample);

    void Finish();

    bool TryTake([NotNullWhen(true)] out AttemptResult? result);
}
