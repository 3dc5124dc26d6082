using EarCoach.Engine.Sessions;

namespace EarCoach.Engine.Ports;

/// <summary>Where a session's news goes: a page, a terminal, a test. Never blocks the session.</summary>
public interface IVerdictFeed
{
    /// <summary>Tells everyone who listens. Called by one thread at a time, verdicts only after they are stored.</summary>
    void Publish(SessionEvent news);
}
