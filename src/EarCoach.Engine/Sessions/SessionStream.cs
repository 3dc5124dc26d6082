using System.Collections.Immutable;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;

namespace EarCoach.Engine.Sessions;

/// <summary>One stream of sound into a session: its ear, its memory, its place on the session's clock.</summary>
/// <remarks>Attempts are taken at ticks of a hundredth of a second on the capture clock, so that what a session does (a changed task,
/// for example) does not depend on where the stream was cut into blocks.</remarks>
internal sealed class SessionStream(
    int sampleRateHz, ImmutableArray<Passage> passages, DrillPlan plan, SessionOptions options, double offsetSeconds, long originSample = 0)
{
    private readonly ClipMemory _memory = new(sampleRateHz, options.MemorySeconds);
    private const double QuietBeforeJudgingSeconds = 0.15; // longer than the gap between two tongued notes
    private const double GapMarginSeconds = 0.25; // a note that was cut by the loss ends before it, or begins after it
    private readonly int _tickSamples = sampleRateHz / 100;
    private readonly List<(long From, long To)> _gaps = [];
    private readonly PlayOnWatch _playOn = new(passages);
    private long _nextSample;
    private long _liveToldAtSample = long.MinValue / 2;
    private int _quietTicks;

    /// <summary>A piece of a block.</summary>
    public readonly record struct Piece(int Start, int Length, bool EndsTick);

    public int SampleRateHz { get; } = sampleRateHz;

    public ISessionEar Ear { get; } = options.MakeEar(sampleRateHz, RangeTask(passages, plan));

    /// <summary>Where this stream's sample 0 is on the session's clock.</summary>
    public double OffsetSeconds { get; } = offsetSeconds;

    public double ClockSeconds => OffsetSeconds + ((double)_nextSample / SampleRateHz);

    /// <summary>What the player is seen to do.</summary>
    public SessionWord Word => Ear.Live.State != EarState.Listening ? SessionWord.Ready
        : _quietTicks >= QuietBeforeJudgingSeconds * 100 ? SessionWord.Judging
        : SessionWord.Listening;

    /// <summary>How much sound was lost just before this block, in seconds; null when none was.</summary>
    public double? LossBefore(AudioBlock block) => block.FollowsGap || block.StartSample - originSample > _nextSample
        ? (double)Math.Max(0, block.StartSample - originSample - _nextSample) / SampleRateHz
        : null;

    public List<Piece> PiecesOf(AudioBlock block)
    {
        List<Piece> pieces = new((block.Samples.Length / _tickSamples) + 2);
        for (int done = 0; done < block.Samples.Length;)
        {
            long here = block.StartSample - originSample + done;
            int toTick = (int)(_tickSamples - (here % _tickSamples));
            int length = Math.Min(toTick, block.Samples.Length - done);
            pieces.Add(new Piece(done, length, length == toTick));
            done += length;
        }

        return pieces;
    }

    public void Hear(AudioBlock block, Piece piece)
    {
        ReadOnlySpan<float> samples = block.Samples.Slice(piece.Start, piece.Length);
        long start = block.StartSample - originSample + piece.Start;
        if (piece.Start == 0 && LossBefore(block) is not null)
        {
            _gaps.RemoveAll(gap => gap.To < _nextSample - (long)(options.MemorySeconds * SampleRateHz));
            _gaps.Add((_nextSample, start));
        }

        _memory.Hear(samples, start);
        Ear.Hear(new AudioBlock(samples, start, block.FollowsGap && piece.Start == 0));
        _nextSample = start + piece.Length;
        if (piece.EndsTick)
        {
            _quietTicks = Ear.Live.FrequencyHz is null ? _quietTicks + 1 : 0;
        }
    }

    /// <summary>An attempt as it is to count: not at all where sound was lost, or where the player did not stop after the task.</summary>
    public AttemptResult Reviewed(AttemptResult result, DrillTask task)
    {
        bool playedOn = _playOn.GoesOn(result, task);
        string? reason = playedOn ? NotCountedReasons.PlayedOn : LostSoundIn(result) ? NotCountedReasons.Gap : null;
        return reason is null || result.Verdict == Verdict.NotCounted ? result : result with { Verdict = Verdict.NotCounted, Reason = reason };
    }

    public void ExpectCue(ImmutableArray<double> tonesHz, double seconds) => Ear.ExpectCue(tonesHz, _nextSample + (long)(seconds * SampleRateHz));

    public bool LiveIsDue(double everySeconds)
    {
        if (_nextSample - _liveToldAtSample < everySeconds * SampleRateHz)
        {
            return false;
        }

        _liveToldAtSample = _nextSample;
        return true;
    }

    public AttemptClip ClipOf(AttemptResult result, double marginSeconds) => _memory.Clip(
        (long)((result.StartSeconds - marginSeconds) * SampleRateHz), (long)((result.EndSeconds + marginSeconds) * SampleRateHz));

    // An ear is made for the lowest and the highest note it will ever be asked for; the tasks of a drill ask for some of them at a time.
    private static JudgingTask RangeTask(ImmutableArray<Passage> passages, DrillPlan plan)
    {
        PassageNote[] byPitch = [.. passages.SelectMany(passage => passage.Notes).OrderBy(note => note.MidiPitch)];
        Passage range = passages[0] with
        {
            Notes = [byPitch[0] with { Onset = Fraction.Zero, Length = 1 }, byPitch[^1] with { Onset = Fraction.One, Length = 1 }],
        };
        return new JudgingTask(range, QuartersPerMinute: null, plan.Tolerances, plan.A4Hz);
    }

    /// <summary>Whether sound was lost within an attempt, or so close to its ends that it may have cut them.</summary>
    private bool LostSoundIn(AttemptResult result)
    {
        double from = (result.StartSeconds - GapMarginSeconds) * SampleRateHz;
        double to = (result.EndSeconds + GapMarginSeconds) * SampleRateHz;
        return _gaps.Exists(gap => gap.To >= from && gap.From <= to);
    }
}
