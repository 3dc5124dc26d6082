using System.Collections.Immutable;
using EarCoach.Core.Listening;
using EarCoach.Core.Passages;

namespace EarCoach.Core.Judging;

/// <summary>Samples in, verdicts out: joins the listener, the attempt gate and the judge. One thread at a time.</summary>
/// <remarks>The verdicts do not depend on where the stream was cut into blocks.</remarks>
public sealed class Ear
{
    private const double QuietAfterEndSeconds = 0.21;
    private const double QuietWhenNotesLackSeconds = 0.45; // the account may be mistaken: the rest may still come
    private const double ForeseenAfterSeconds = 0.06; // when the end is foreseen: the verdict is worked out while the quiet goes on
    private const double LeastShareForeseen = 0.4; // of the task's length: who is faster is not at its end yet
    private const double LongestAwaitedSeconds = 0.6; // of quiet, though the last note be long
    private const double EchoSeconds = 1.2;
    private const float EchoDb = 9;
    private const double PreRollSeconds = 0.4;
    private const double ShortestLimitSeconds = 150; // of a region; a long task may take longer
    private const double LongestLimitSeconds = 600;
    private const double SlowestShare = 1.8;         // of the task's own length that its playing may take before it is cut
    private const double WaitAfterFalseStartSeconds = FalseStart.LongestPauseSeconds + 0.15;
    private const int LevelsKept = 3;
    private const double ForgetDbPerSecond = 0.1;    // who turned the microphone down is heard again in a minute or two
    private const double RecentSeconds = 0.5;        // what a new listener hears once more, so that it knows the room
    private readonly Queue<AttemptResult> _decided = new();
    private readonly List<HeardFrame> _region = [];
    private readonly float[] _silence = new float[1024];
    private readonly AnalysisSamples _recent; // of the stream itself
    private Listener _listener;
    private ListenerOptions _options;
    private AnalysisSamples _samples;
    private HeardFrame[] _frames;
    private AttemptJudge _judge;
    private double _keptSeconds;
    private int _mostFrames;
    private long _lostAt = long.MinValue / 2;
    private readonly CueMask _cue = new();
    private Foresight? _foreseen;
    private bool _open;
    private bool _armed = true;
    private int _activeRun;
    private int _quietRun;
    private int _inactiveRun;
    private int _nextCheck;
    private float _loudest;
    private float _lastPeak = float.NegativeInfinity; // of the region before, dBFS
    private double _lastEndSeconds = double.NegativeInfinity;
    private int _lastHeard = -1;                      // the note that the region before ended on
    private readonly Queue<double> _levels = new();   // of the last attempts, in dBFS
    private double _levelsAtSeconds;
    private float _quietest;
    private long _clock;

    /// <summary>Makes an ear for one stream.</summary>
    /// <param name="sampleRateHz">16,000 to 192,000.</param>
    /// <param name="task">What will be played; at least one note.</param>
    public Ear(int sampleRateHz, JudgingTask task)
    {
        ArgumentNullException.ThrowIfNull(task);
        ArgumentOutOfRangeException.ThrowIfLessThan(sampleRateHz, 16_000);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(sampleRateHz, 192_000);
        ArgumentOutOfRangeException.ThrowIfZero(task.Passage.Notes.Length, nameof(task));
        SampleRateHz = sampleRateHz;
        Task = task;
        _recent = new AnalysisSamples((int)(RecentSeconds * sampleRateHz));
        _judge = new AttemptJudge(task, new EarlierAttempts(new TuningFollower(task.Tolerances.TuningFollowCents), new UsualTone()));
        _options = OptionsFor(task);
        (_listener, _samples, _frames) = Build(startSample: 0);
        Limit();
    }

    /// <summary>Samples a second of the stream.</summary>
    public int SampleRateHz { get; }

    /// <summary>What the attempts are held against.</summary>
    public JudgingTask Task { get; private set; }

    /// <summary>The newest reading, for display.</summary>
    public LiveReading Live { get; private set; }

    /// <summary>Changes the task. An attempt under way is dropped; the next one is held against the new task.</summary>
    /// <param name="task">What will be played; at least one note. Where it goes beyond the pitches or the length that the ear listens for, the ear
    /// listens anew for those of this task; its clock goes on.</param>
    public void SetTask(JudgingTask task)
    {
        ArgumentNullException.ThrowIfNull(task);
        ArgumentOutOfRangeException.ThrowIfZero(task.Passage.Notes.Length, nameof(task));
        if (!AreOneAndPart(task.Passage, Task.Passage))
        {
            _levels.Clear(); // another passage may be as soft as it likes
        }

        Task = task;
        _judge = new AttemptJudge(task, _judge.Earlier);
        _foreseen = null;
        _lastHeard = -1;
        _open = false;
        _region.Clear();
        ListenerOptions needed = OptionsFor(task);
        if (needed.LowestPitchHz < _options.LowestPitchHz || needed.LikelyLowestPitchHz < _options.LikelyLowestPitchHz
            || needed.HighestPitchHz > _options.HighestPitchHz || LongestSeconds > _keptSeconds)
        {
            _options = needed;
            ListenAnew();
        }

        Limit();
    }

    /// <summary>Hears the next block. Blocks come in order; samples that were lost count as silence, and the attempt they fall in is not counted.</summary>
    public void Hear(AudioBlock block)
    {
        bool gap = block.FollowsGap;
        long lost = Math.Clamp(block.StartSample - _clock, 0, 2L * SampleRateHz);
        while (lost > 0)
        {
            int take = (int)Math.Min(lost, _silence.Length);
            Process(new AudioBlock(_silence.AsSpan(0, take), _clock, true));
            lost -= take;
            gap = true;
        }

        ReadOnlySpan<float> rest = block.Samples;
        while (rest.Length > 0)
        {
            int take = Math.Min(rest.Length, 1024);
            Process(new AudioBlock(rest[..take], _clock, gap));
            gap = false;
            rest = rest[take..];
        }
    }

    /// <summary>The program's own cue is about to sound: its tones are nobody's playing. Other pitches are heard as ever, so a player may go on at once.</summary>
    /// <param name="tonesHz">The pitches of the cue, in hertz.</param>
    /// <param name="untilSample">Until when they may be heard, on the capture clock.</param>
    public void ExpectCue(ImmutableArray<double> tonesHz, long untilSample) => _cue.Expect(_clock, untilSample, tonesHz);

    /// <summary>The stream has ended: decides what is under way.</summary>
    public void Finish()
    {
        // Half a second of silence lets the last frames out.
        for (int k = 0; k < SampleRateHz / 2; k += _silence.Length)
        {
            Process(new AudioBlock(_silence, _clock));
        }

        if (_open)
        {
            RegionSound sound = Sound();
            Close(sound, _judge.Account(sound, UsualDbfs(sound)));
        }
    }

    /// <summary>Takes the next decided attempt, oldest first.</summary>
    public bool TryTake(out AttemptResult? result) => _decided.TryDequeue(out result);

    /// <summary>Sees each region as it is closed; for tests and measurements.</summary>
    internal Action<RegionSound, RegionAccount>? RegionClosed { get; set; }

    /// <summary>The longest that the playing of the task may take before it is cut, in seconds.</summary>
    private double LongestSeconds => Math.Clamp((SlowestShare * _judge.LengthSeconds) + 20, ShortestLimitSeconds, LongestLimitSeconds);

    private ListenerOptions OptionsFor(JudgingTask task)
    {
        double low = EqualTemperament.HzOf(task.Passage.Notes.Min(n => n.MidiPitch), task.A4Hz);
        double high = EqualTemperament.HzOf(task.Passage.Notes.Max(n => n.MidiPitch), task.A4Hz);
        double top = SampleRateHz / 3.5;
        return new ListenerOptions
        {
            SampleRateHz = SampleRateHz,
            LowestPitchHz = Math.Max(22, low / 1.5),
            LikelyLowestPitchHz = Math.Max(22, low / 1.1),
            HighestPitchHz = Math.Min(top, high * 2.1),
        };
    }

    private (Listener Listener, AnalysisSamples Samples, HeardFrame[] Frames) Build(long startSample)
    {
        var listener = new Listener(_options, startSample);
        _keptSeconds = LongestSeconds;
        var samples = new AnalysisSamples((int)(listener.AnalysisRateHz * (_keptSeconds + 10)), listener.FirstSample / listener.Factor);
        return (listener, samples, new HeardFrame[listener.MaxFrames(_silence.Length) + 4]);
    }

    /// <summary>Goes on with a new listener, which hears the last moments once more.</summary>
    private void ListenAnew()
    {
        (_listener, _samples, _frames) = Build(Math.Max(0, _clock - (long)(RecentSeconds * SampleRateHz)));
        var again = new float[_silence.Length];
        for (long at = _listener.FirstSample; at < _clock; at += again.Length)
        {
            Span<float> part = again.AsSpan(0, (int)Math.Min(again.Length, _clock - at));
            _recent.CopyTo(at, part);
            Listen(new AudioBlock(part, at, _lostAt >= at && _lostAt < at + part.Length));
        }
    }

    private void Limit() => _mostFrames = Math.Min((int)(LongestSeconds * _listener.FramesPerSecond), _judge.MostFrames(_listener.FramesPerSecond));

    private void Process(AudioBlock block)
    {
        _lostAt = block.FollowsGap ? _clock : _lostAt;
        _clock += block.Samples.Length;
        _recent.Append(block.Samples);
        Listen(block);
    }

    private void Listen(AudioBlock block)
    {
        int count = _listener.Process(block, _frames, _samples);
        for (int i = 0; i < count; i++)
        {
            _frames[i].Deaf = _cue.Hides(in _frames[i]);
            OnFrame(in _frames[i]);
        }
    }

    private void OnFrame(in HeardFrame frame)
    {
        double fps = _listener.FramesPerSecond;
        bool active = frame.HasPitch && !frame.Deaf;
        Live = new LiveReading(frame.CentreSample, active ? EqualTemperament.HzOf(frame.Midi) : null, frame.LevelDbfs, _open ? EarState.Listening : EarState.Ready);
        _region.Add(frame);
        _activeRun = active ? Math.Min(_activeRun + 1, 12) : Math.Max(0, _activeRun - 2);
        _inactiveRun = active ? 0 : _inactiveRun + 1;
        if (!_open)
        {
            int preRoll = (int)(PreRollSeconds * fps);
            if (_region.Count > 2 * preRoll)
            {
                _region.RemoveRange(0, _region.Count - preRoll);
            }

            _quietest = Math.Min(_quietest, frame.LevelDbfs);
            _armed |= _inactiveRun >= 6 || frame.LevelDbfs > _quietest + 9;
            if (_armed && _activeRun >= 8)
            {
                _open = true;
                _quietRun = 0;
                _nextCheck = (int)(QuietAfterEndSeconds * fps);
                _loudest = frame.LevelDbfs;
            }

            return;
        }

        _loudest = Math.Max(active ? frame.LevelDbfs : float.NegativeInfinity, _loudest - (float)(8 / fps)); // a cough is not what the notes die away from
        bool quiet = !active || frame.LevelDbfs < _loudest - 10;
        _quietRun = quiet ? _quietRun + 1 : 0;
        if (_quietRun == 0)
        {
            _nextCheck = (int)(QuietAfterEndSeconds * fps);
            _foreseen = null;
        }
        else if (_quietRun == (int)(ForeseenAfterSeconds * fps) && _region.Count > LeastShareForeseen * _judge.LengthSeconds * fps)
        {
            Foresee();
        }

        if (_quietRun >= _nextCheck || _region.Count >= _mostFrames)
        {
            Check(fps);
        }
    }

    /// <summary>The region as it was when the quiet began, judged ahead of time. It stands if the quiet lasts, and is forgotten if not.</summary>
    private sealed record Foresight(RegionSound Sound, RegionAccount Account, AttemptJudge Judge, IReadOnlyList<AttemptResult> Results);

    private void Foresee()
    {
        RegionSound sound = Sound();
        RegionAccount account = _judge.Account(sound, UsualDbfs(sound));
        if (account.Attempts is [.., { ReachesEnd: true, SoundsEveryNote: true } whole] && StillDueSeconds(whole) <= 0)
        {
            var judge = new AttemptJudge(Task, _judge.Earlier.Copy()); // what it learns of the player counts only if the results stand
            _foreseen = new Foresight(sound, account, judge, judge.Judge(sound, account));
        }
    }

    private void Check(double fps)
    {
        if (_foreseen is { } foreseen && !_region.Skip(foreseen.Sound.Frames.Length).Any(frame => frame.Broken))
        {
            _judge = foreseen.Judge;
            Close(foreseen.Sound, foreseen.Account, foreseen.Results);
            return;
        }

        RegionSound sound = Sound();
        RegionAccount account = _judge.Account(sound, UsualDbfs(sound));
        AttemptPath? last = account.Attempts.Count > 0 ? account.Attempts[^1] : null;
        double wait = 0;
        if (last is { ReachesEnd: false } && _region.Count < _mostFrames)
        {
            // One note may be missing and the next still come; after that the player has stopped.
            IReadOnlyList<TargetNote> targets = _judge.Targets;
            int reached = Math.Max(last.LastIndex, last.Reached(targets, fps));
            int next = Math.Min(reached + 2, targets.Count - 1);
            double end = targets[reached].OnsetSeconds + targets[reached].LengthSeconds;
            wait = Math.Clamp((1.1 * (targets[next].OnsetSeconds - end)) + 0.45, 0.8, 6);
        }
        else if (last is { SoundsEveryNote: false })
        {
            wait = QuietWhenNotesLackSeconds;
        }

        if (last is { ReachesEnd: true })
        {
            wait = Math.Max(wait, Math.Min(LongestAwaitedSeconds, (_quietRun / fps) + StillDueSeconds(last)));
        }

        wait = last is not null && FalseStart.MayBe(last) ? Math.Max(wait, WaitAfterFalseStartSeconds) : wait;
        if (_quietRun >= wait * fps || _region.Count >= _mostFrames)
        {
            Close(sound, account);
        }
        else
        {
            _nextCheck = (int)Math.Ceiling(wait * fps);
        }
    }

    /// <summary>
    /// How long the last note may still be awaited, in seconds: what was taken for it was short, as the ring of the note before would be, and
    /// its own time is not over.
    /// </summary>
    private double StillDueSeconds(AttemptPath attempt)
    {
        double fps = _listener.FramesPerSecond;
        TargetNote target = _judge.Targets[attempt.LastIndex];
        PathStep[] steps = [.. attempt.Of(attempt.LastIndex)];
        double sounded = steps.Sum(s => s.Frames) / fps;
        double since = (_region.Count - steps[0].FirstFrame) / fps;
        return sounded < 0.4 * target.LengthSeconds ? Math.Max(0, (0.9 * target.LengthSeconds) - since) : 0;
    }

    /// <summary>Whether a region is only the ring of the one before: it begins soon after it, is much weaker, and is of one note, or two of many.</summary>
    private bool IsEcho(RegionSound sound, RegionAccount account, float peak)
    {
        double since = sound.SecondsOfFrame(Math.Min(sound.Frames.Length - 1, PreRollSeconds * sound.FramesPerSecond)) - _lastEndSeconds;
        return since < EchoSeconds && peak < _lastPeak - EchoDb
            && account.Attempts.All(a => a.SoundingNotes <= (_judge.Targets.Count > 3 ? 2 : 1));
    }

    /// <summary>Whether a region is only the tail of the attempt before: one note that would go on with it, soon after it.</summary>
    private bool IsTail(RegionSound sound, RegionAccount account) =>
        account.Attempts is [var only] && sound.SecondsOfFrame(only.FirstFrame) - _lastEndSeconds < FalseStart.LongestPauseSeconds
        && FalseStart.TailOf(only, _lastHeard, _judge.Targets) is not null;

    private void Close(RegionSound sound, RegionAccount account, IReadOnlyList<AttemptResult>? foreseen = null)
    {
        RegionClosed?.Invoke(sound, account);
        float peak = sound.Frames.Max(f => f.LevelDbfs);
        if (!IsEcho(sound, account, peak) && !IsTail(sound, account))
        {
            foreach (AttemptResult result in foreseen ?? _judge.Judge(sound, account))
            {
                _decided.Enqueue(result);
            }

            foreach (AttemptPath attempt in account.Attempts)
            {
                _levels.Enqueue(OtherSound.LevelOf(sound, attempt));
                _levelsAtSeconds = sound.SecondsOfFrame(attempt.EndFrame);
            }

            while (_levels.Count > LevelsKept)
            {
                _levels.Dequeue();
            }

            _lastPeak = peak;
            _lastHeard = account.Attempts.Count > 0 ? account.Attempts[^1].Reached(_judge.Targets, sound.FramesPerSecond) : -1;
        }

        _lastEndSeconds = sound.SecondsOfFrame(sound.Frames.Length - 1);
        Live = Live with { State = EarState.Ready };
        _foreseen = null;
        _open = false;
        _armed = false;
        _inactiveRun = 0;
        _activeRun = 0;
        _quietest = float.PositiveInfinity;
        _region.Clear();
    }

    /// <summary>How loud the last attempts were, as their median in dBFS, less the longer ago they were; null before the first.</summary>
    private double? UsualDbfs(RegionSound sound) => _levels.Count == 0
        ? null
        : _levels.Order().ElementAt(_levels.Count / 2) - (ForgetDbPerSecond * (sound.SecondsOfFrame(sound.Frames.Length - 1) - _levelsAtSeconds));

    /// <summary>Whether one of two passages has the pitches of the other, or a part of them.</summary>
    private static bool AreOneAndPart(Passage one, Passage other)
    {
        int[] few = [.. one.Notes.Select(n => n.MidiPitch)];
        int[] many = [.. other.Notes.Select(n => n.MidiPitch)];
        return few.Length <= many.Length ? many.AsSpan().IndexOf(few) >= 0 : few.AsSpan().IndexOf(many) >= 0;
    }

    private RegionSound Sound() => new([.. _region], _samples, _listener.Factor, SampleRateHz, _listener.FramesPerSecond);
}
