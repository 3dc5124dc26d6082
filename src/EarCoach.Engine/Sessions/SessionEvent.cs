using EarCoach.Core.Drills;

namespace EarCoach.Engine.Sessions;

/// <summary>News of a session.</summary>
public abstract record SessionEvent
{
    private SessionEvent()
    {
    }

    /// <summary>What is heard just now. May be dropped when a listener is slow.</summary>
    /// <param name="AtSeconds">Seconds on the capture clock.</param>
    /// <param name="FrequencyHz">The pitch, or null when none is heard.</param>
    /// <param name="LevelDbfs">RMS level in dB relative to full scale.</param>
    /// <param name="Word">The session's state in one word.</param>
    public sealed record Live(double AtSeconds, double? FrequencyHz, double LevelDbfs, SessionWord Word) : SessionEvent;

    /// <summary>Sound was lost on its way. An attempt that the loss falls into is not counted.</summary>
    /// <param name="Seconds">How much; 0 when it is not known.</param>
    public sealed record SoundLost(double Seconds) : SessionEvent
    {
        /// <summary>In words.</summary>
        public string Sentence => Seconds >= 0.0005
            ? FormattableString.Invariant($"Sound was lost on the way ({Seconds * 1000:0} ms). An attempt that it falls into is not counted.")
            : "Sound was lost on the way. An attempt that it falls into is not counted.";
    }

    /// <summary>An attempt was judged and is stored.</summary>
    /// <param name="Report">The verdict.</param>
    /// <param name="Effects">What follows for the drill.</param>
    /// <param name="View">The session afterwards.</param>
    public sealed record Verdict(VerdictReport Report, IReadOnlyList<DrillEffect> Effects, SessionView View) : SessionEvent;

    /// <summary>Something else changed: a pause, a dispute, a skip, numbers, the word.</summary>
    /// <param name="Effects">What follows for the drill; empty when nothing does.</param>
    /// <param name="View">The session afterwards.</param>
    public sealed record Changed(IReadOnlyList<DrillEffect> Effects, SessionView View) : SessionEvent;
}
