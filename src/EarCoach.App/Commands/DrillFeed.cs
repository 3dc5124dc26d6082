using EarCoach.Engine.Ports;
using EarCoach.Engine.Sessions;

namespace EarCoach.App.Commands;

/// <summary>Hands a session's news to the writer of a terminal. A terminal that is slow makes the session wait; nothing is left out.</summary>
internal sealed class DrillFeed(TextWriter remarks) : IVerdictFeed
{
    /// <summary>Where the news goes; null: nowhere yet.</summary>
    public IDrillWriter? Writer { get; set; }

    public void Publish(SessionEvent news)
    {
        switch (news)
        {
            case SessionEvent.Verdict verdict:
                Writer?.Verdict(verdict.Report, verdict.Effects, verdict.View);
                break;
            case SessionEvent.SoundLost lost:
                remarks.WriteLine(lost.Sentence);
                break;
            case SessionEvent.Changed changed:
                Writer?.Changed(changed.Effects, changed.View);
                break;
        }
    }
}
