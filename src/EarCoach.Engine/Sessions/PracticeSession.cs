using System.Collections.Immutable;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Passages;
using EarCoach.Engine.Ports;
using EarCoach.Engine.Wording;

namespace EarCoach.Engine.Sessions;

/// <summary>A practice session: samples in, verdicts judged, counted, stored, and only then told.</summary>
/// <remarks>Any thread may call any member; one lock makes them take turns, so that one thread at a time writes to the store and to the feed.
/// A member that throws <see cref="StoreException"/> has changed nothing and told nobody anything.</remarks>
public sealed partial class PracticeSession
{
    private readonly Lock _turn = new();
    private readonly SessionStart _start;
    private readonly ImmutableArray<Passage> _passages;
    private readonly Drill _drill;
    private readonly IAttemptStore _store;
    private readonly IVerdictFeed _feed;
    private readonly TimeProvider _time;
    private readonly SessionOptions _options;
    private readonly VerdictWording _wording;
    private readonly ProposalBoard _proposals = new();
    private DrillState _state;
    private int _entries;
    private SessionStream? _stream;
    private VerdictReport? _lastVerdict;
    private bool _closed;
    private double _clockSeconds; // the session's clock where the last stream ended
    private SessionWord _toldWord;

    private PracticeSession(SessionRecord record, IAttemptStore store, IVerdictFeed feed, TimeProvider time, SessionOptions options)
    {
        string problems = string.Join(' ', options.Problems());
        if (problems.Length > 0)
        {
            throw new ArgumentException(problems, nameof(options));
        }

        _start = record.Start;
        _passages = [.. _start.Passages.Select(passage => passage.Passage)];
        _drill = new Drill(_passages);
        _store = store;
        _feed = feed;
        _time = time;
        _options = options;
        _wording = new VerdictWording(_passages);
        _state = _drill.Start(_start.Plan, _start.PlayedEarlierTodaySeconds);
        foreach (LoggedInput entry in record.Log)
        {
            _state = _drill.Reduce(_state, entry.Input).Next;
        }

        _entries = record.Log.Count;
        _clockSeconds = _state.Rests.LastEndSeconds ?? 0;
        _closed = record.EndedAt is not null;
    }

    /// <summary>The session's name.</summary>
    public Guid Id => _start.SessionId;

    /// <summary>The session as it is now.</summary>
    public SessionView View
    {
        get
        {
            lock (_turn)
            {
                return ViewNow();
            }
        }
    }

    /// <summary>Whether nothing more is to be played: the drill is done, or the session was closed.</summary>
    public bool IsOver
    {
        get
        {
            lock (_turn)
            {
                return _closed || _state.Phase == DrillPhase.Done;
            }
        }
    }

    /// <summary>Begins a session and stores what was chosen.</summary>
    /// <exception cref="PlanException">The plan has problems with these passages (the message names them all), or a cold take is no longer cold.</exception>
    public static PracticeSession Begin(
        ImmutableArray<SessionPassage> passages, DrillPlan plan, IAttemptStore store, IVerdictFeed feed, TimeProvider time, SessionOptions? options = null)
    {
        DateTimeOffset now = time.GetLocalNow();
        DateOnly today = DateOnly.FromDateTime(now.DateTime);
        if (plan is ColdTakePlan && passages.FirstOrDefault()?.PassageId is { } cold && store.WasPlayedOn(cold, today))
        {
            throw new PlanException("This passage was played today already, so no take of it is cold; come back tomorrow, or choose another drill.");
        }

        string problems = string.Join(' ', new Drill([.. passages.Select(passage => passage.Passage)]).Problems(plan));
        if (problems.Length > 0)
        {
            throw new PlanException(problems);
        }

        double earlier = store.PlayedSecondsOn(today);
        SessionStart start = new(Guid.CreateVersion7(now), now, passages, plan, earlier);
        PracticeSession session = new(new SessionRecord(start, EndedAt: null, Log: []), store, feed, time, options ?? new SessionOptions());
        store.Begin(start);
        return session;
    }

    /// <summary>Takes up a stored session where it was: with its counts, its last verdict, its numbers.</summary>
    public static PracticeSession TakeUp(
        SessionRecord record, IAttemptStore store, IVerdictFeed feed, TimeProvider time, SessionOptions? options = null)
    {
        PracticeSession session = new(record, store, feed, time, options ?? new SessionOptions());
        IReadOnlyList<JudgedAttempt> attempts = store.AttemptsOf(record.Start.SessionId);
        session._lastVerdict = attempts.Count > 0 ? session._wording.ReportOf(attempts[^1]) : null;
        return session;
    }

    /// <summary>Pauses: attempts count for nothing until <see cref="Resume"/>. An attempt under way is dropped.</summary>
    public void Pause() => Apply(new DrillInput.Paused());

    /// <summary>Goes on after a pause.</summary>
    public void Resume() => Apply(new DrillInput.Resumed());

    /// <summary>Disputes the last verdict: it becomes not counted, never clean; the count goes back to what it was before it.</summary>
    public void Dispute() => Apply(new DrillInput.Disputed());

    /// <summary>Leaves the present stage for the next.</summary>
    public void Skip() => Apply(new DrillInput.Skipped());

    /// <summary>Starts the present stage over; with nothing counted in it yet, the stage before.</summary>
    public void Repeat() => Apply(new DrillInput.Repeated());

    /// <summary>Changes numbers of the drill while it runs.</summary>
    /// <exception cref="PlanException">Another kind of drill, or a plan with problems; the message names them all.</exception>
    public void Change(DrillPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        string problems = string.Join(' ', _drill.Problems(plan));
        if (plan.Kind != _start.Plan.Kind)
        {
            problems = $"The drill is {DrillKindNames.Of(_start.Plan.Kind)} and can't become {DrillKindNames.Of(plan.Kind)}; begin a new session for that.";
        }

        if (problems.Length > 0)
        {
            throw new PlanException(problems);
        }

        Apply(new DrillInput.PlanChanged(plan));
    }

    /// <summary>Ends a proposed rest early.</summary>
    public void EndRest()
    {
        lock (_turn)
        {
            if (_proposals.EndRest())
            {
                TellChange([]);
            }
        }
    }

    /// <summary>The session is over and is not offered again.</summary>
    public void Close()
    {
        lock (_turn)
        {
            if (!_closed)
            {
                _store.Close(Id, _time.GetLocalNow());
                _closed = true;
                EndStream();
                TellChange([]);
            }
        }
    }

    private double ClockNow => _stream?.ClockSeconds ?? Math.Max(_clockSeconds, (_time.GetUtcNow() - _start.StartedAt).TotalSeconds);

    private JudgingTask? TaskNow() => _drill.TaskOf(_state) is { } task ? TaskPassage.JudgingTaskOf(task, _passages) : null;

    private void Apply(DrillInput input)
    {
        lock (_turn)
        {
            DrillStep step = _drill.Reduce(_state, input);
            if (_closed || ReferenceEquals(step.Next, _state))
            {
                return; // does not apply: nothing to store, nothing to tell
            }

            LoggedInput entry = new(_entries + 1, _time.GetLocalNow(), input);
            _store.Append(Id, entry);
            _entries = entry.Number;
            if (input is DrillInput.Disputed && _lastVerdict is { } last)
            {
                _lastVerdict = _wording.ReportOf(last with { Disputed = true });
            }

            Become(step);
            if (input is DrillInput.Paused or DrillInput.Resumed && TaskNow() is { } same)
            {
                _stream?.Ear.SetTask(same); // what sounded before counts for nothing
            }

            TellChange(step.Effects);
        }
    }

    private void Become(DrillStep step)
    {
        DrillTask? before = _drill.TaskOf(_state);
        _state = step.Next;
        DrillTask? task = _drill.TaskOf(_state);
        _proposals.Follow(step.Effects, task != before, _time.GetLocalNow(), ClockNow);
        if (task is not null && task != before)
        {
            _stream?.Ear.SetTask(TaskPassage.JudgingTaskOf(task, _passages));
        }
    }

    private SessionWord WordNow() => (_state.Phase, _stream, _proposals.Rest) switch
    {
        (DrillPhase.Done, _, _) => SessionWord.Done,
        _ when _closed => SessionWord.Done,
        (DrillPhase.Paused, _, _) => SessionWord.Paused,
        (_, _, not null) => SessionWord.Rest,
        (_, null, _) => SessionWord.Waiting,
        (_, { } stream, _) => stream.Word,
    };

    private void TellChange(IReadOnlyList<DrillEffect> effects)
    {
        SessionView view = ViewNow();
        _toldWord = view.Word;
        _feed.Publish(new SessionEvent.Changed(effects, view));
    }

    private SessionView ViewNow()
    {
        DrillView drill = _drill.ViewOf(_state);
        return new SessionView(
            Id,
            WordNow(),
            _start.Passages,
            _state.Plan,
            drill,
            drill.Task is { } task ? TaskPassage.JudgingTaskOf(task, _passages) : null,
            drill.Task is { } notes ? TaskPassage.PassageNotesOf(notes, _passages) : [],
            _wording.TaskSentence(drill.Task),
            _lastVerdict,
            _state.Last is not null,
            _proposals.Rest,
            _proposals.Hint,
            _state.Rests.PlayedSeconds)
        {
            ExpectedAttemptsLeft = Outlook.ExpectedAttemptsLeft(drill),
        };
    }
}
