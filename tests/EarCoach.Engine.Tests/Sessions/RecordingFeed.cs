using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;

namespace EarCoach.Engine.Tests.Sessions;

/// <summary>Remembers all news, and lets a test look at the moment of publication.</summary>
internal sealed class RecordingFeed : IVerdictFeed
{
    public List<SessionEvent> News { get; } = [];

    public Action<SessionEvent>? OnPublish { get; set; }

    public IReadOnlyList<SessionEvent.Verdict> Verdicts => [.. News.OfType<SessionEvent.Verdict>()];

    public void Publish(SessionEvent news)
    {
        News.Add(news);
        OnPublish?.Invoke(news);
    }
}
