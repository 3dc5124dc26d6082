using System.Threading.Channels;

namespace EarCoach.Engine.Sessions;

/// <summary>One listener's channel.</summary>
public sealed class FeedSubscription : IDisposable
{
    /// <summary>How many pieces of news may wait for a listener.</summary>
    public const int Capacity = 256;

    // So many places are kept free of live readings, so that a slow listener still gets its verdicts.
    private const int LiveLimit = 8;

    private readonly Channel<SessionEvent> _channel = Channel.CreateBounded<SessionEvent>(
        new BoundedChannelOptions(Capacity) { SingleReader = true, FullMode = BoundedChannelFullMode.Wait });

    private readonly Action<FeedSubscription> _remove;

    internal FeedSubscription(Action<FeedSubscription> remove) => _remove = remove;

    /// <summary>The news, in order. Ends when the listener stops, or was cut off for being too slow.</summary>
    public ChannelReader<SessionEvent> News => _channel.Reader;

    /// <summary>Whether it was cut off: then begin again with the session's view.</summary>
    public bool WasCutOff { get; private set; }

    /// <summary>Stops listening.</summary>
    public void Dispose()
    {
        _channel.Writer.TryComplete();
        _remove(this);
    }

    internal void Offer(SessionEvent news)
    {
        if (news is SessionEvent.Live)
        {
            if (_channel.Reader.Count < LiveLimit)
            {
                _channel.Writer.TryWrite(news);
            }
        }
        else if (!_channel.Writer.TryWrite(news) && !_channel.Reader.Completion.IsCompleted)
        {
            WasCutOff = true;
            Dispose();
        }
    }
}
