using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;

namespace EarCoach.Engine.Sessions;

/// <summary>The ear of Core.</summary>
internal sealed class SessionEar(int sampleRateHz, JudgingTask task) : ISessionEar
{
    private readonly Ear _ear = new(sampleRateHz, task);

    public LiveReading Live => _ear.Live;

    public void Hear(AudioBlock block) => _ear.Hear(block);

    public void SetTask(JudgingTask task) => _ear.SetTask(task);

    public void ExpectCue(ImmutableArray<double> tonesHz, long untilSample) => _ear.ExpectCue(tonesHz, untilSample);

    public void Finish() => _ear.Finish();

    public bool TryTake([NotNullWhen(true)] out AttemptResult? result) => _ear.TryTake(out result) && result is not null;
}
