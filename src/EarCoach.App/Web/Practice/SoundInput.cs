using System.Collections.Immutable;
using EarCoach.Core.Listening;
using EarCoach.Engine.Sessions;

namespace EarCoach.App.Web.Practice;

/// <summary>One source of sound in the page, from its opening to its end; it may outlive a session.</summary>
/// <remarks>The page counts samples from the opening of the source; each session begins its own clock where it takes the sound up.</remarks>
internal sealed class SoundInput(int sampleRateHz, Action displaced)
{
    private readonly Lock _turn = new();
    private PracticeSession? _session;
    private long _nextIndex;
    private long _clockStart;
    private bool _isFirst;

    /// <summary>Where the page's count of samples stood when the present session took the sound up.</summary>
    public long ClockStart
    {
        get
        {
            lock (_turn)
            {
                return _clockStart;
            }
        }
    }

    /// <summary>From now on the sound goes into this session.</summary>
    public void Begin(PracticeSession session)
    {
        lock (_turn)
        {
            session.OpenStream(sampleRateHz);
            _session = session;
            _clockStart = _nextIndex;
            _isFirst = true;
        }
    }

    /// <summary>Hears a block.</summary>
    /// <param name="index">The page's index of its first sample.</param>
    /// <param name="samples">The samples.</param>
    /// <returns>False where the index runs backwards: the page broke the rules.</returns>
    public bool Hear(long index, ReadOnlySpan<float> samples)
    {
        lock (_turn)
        {
            if (index < _nextIndex)
            {
                return false;
            }

            if (_isFirst)
            {
                _clockStart = index;
            }

            bool followsGap = !_isFirst && index > _nextIndex;
            _isFirst = false;
            _nextIndex = index + samples.Length;
            _session?.Hear(new AudioBlock(samples, index - _clockStart, followsGap));
            return true;
        }
    }

    /// <summary>The page sounds a cue, which is none of the player's notes.</summary>
    /// <param name="tonesHz">Its pitches, in hertz.</param>
    /// <param name="seconds">How long it may be heard.</param>
    public void ExpectCue(ImmutableArray<double> tonesHz, double seconds)
    {
        lock (_turn)
        {
            _session?.ExpectCue(tonesHz, seconds);
        }
    }

    /// <summary>The sound has ended, because the page went away: an attempt under way is dropped, for the player did not stop by himself.</summary>
    public void End()
    {
        lock (_turn)
        {
            _session?.CloseStream(decide: false);
            _session = null;
        }
    }

    /// <summary>Another source took over.</summary>
    public void Displace()
    {
        lock (_turn)
        {
            _session = null;
        }

        displaced();
    }
}
