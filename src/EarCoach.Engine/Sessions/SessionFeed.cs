using EarCoach.Engine.Ports;

namespace EarCoach.Engine.Sessions;

/// <summary>Hands a session's news to any number of listeners, each through a bounded channel of its own.</summary>
/// <remarks>Live readings are dropped for a listener that is slow. Verdicts and changes are not: a listener so slow that they no longer fit is
/// cut off (its reading ends), and is to begin again with the session's view. The session itself never waits.</remarks>
public sealed class SessionFeed : IVerdictFeed
{
    private readonly Lock _turn = new();
    private FeedSubscription[] _subscriptions = [];

    /// <summary>Begins to listen. Dispose the subscription to stop.</summary>
    public FeedSubscription Subscribe()
    {
        lock (_turn)
        {
            FeedSubscription subscription = new(Remove);
            _subscriptions = [.. _subscriptions, subscription];
            return subscription;
        }
    }

    /// <inheritdoc/>
    public void Publish(SessionEvent news)
    {
        foreach (FeedSubscription subscription in Volatile.Read(ref _subscriptions))
        {
            subscription.Offer(news);
        }
    }

    private void Remove(FeedSubscription subscription)
    {
        lock (_turn)
        {
            _subscriptions = [.. _subscriptions.Where(other => other != subscription)];
        }
    }
}
