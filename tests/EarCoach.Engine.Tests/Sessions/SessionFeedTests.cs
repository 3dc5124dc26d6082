using EarCoach.Core.Drills;
using EarCoach.Engine.Sessions;
using FluentAssertions;
using Xunit;

namespace EarCoach.Engine.Tests.Sessions;

public sealed class SessionFeedTests
{
    private static readonly SessionEvent _live = new SessionEvent.Live(0, null, -60, SessionWord.Ready);

    [Fact]
    public void ASlowListener_LosesLiveReadings_ButNoVerdict()
    {
        SessionFeed feed = new();
        using FeedSubscription slow = feed.Subscribe();
        SessionEvent verdict = new SessionEvent.Changed([], new Stage(new ProofPlan(), "c").Session.View);
        for (int i = 0; i < 200; i++)
        {
            feed.Publish(_live);
            feed.Publish(_live);
            feed.Publish(verdict);
        }

        List<SessionEvent> got = Drain(slow);
        got.Count(news => ReferenceEquals(news, verdict)).Should().Be(200);
        got.Count(news => ReferenceEquals(news, _live)).Should().BeLessThan(20);
        slow.WasCutOff.Should().BeFalse();
    }

    [Fact]
    public void AListenerThatNeverReads_IsCutOff_AndTheOthersGoOn()
    {
        SessionFeed feed = new();
        using FeedSubscription dead = feed.Subscribe();
        using FeedSubscription quick = feed.Subscribe();
        SessionEvent verdict = new SessionEvent.Changed([], new Stage(new ProofPlan(), "c").Session.View);
        int got = 0;
        for (int i = 0; i < FeedSubscription.Capacity + 50; i++)
        {
            feed.Publish(verdict);
            got += Drain(quick).Count;
        }

        got.Should().Be(FeedSubscription.Capacity + 50);
        dead.WasCutOff.Should().BeTrue();
        Drain(dead).Should().HaveCount(FeedSubscription.Capacity);
        dead.News.Completion.IsCompleted.Should().BeTrue();
    }

    private static List<SessionEvent> Drain(FeedSubscription subscription)
    {
        List<SessionEvent> news = [];
        while (subscription.News.TryRead(out SessionEvent? next))
        {
            news.Add(next);
        }

        return news;
    }
}
