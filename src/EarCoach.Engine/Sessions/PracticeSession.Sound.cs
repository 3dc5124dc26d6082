using System.Collections.Immutable;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Core.Listening;
using EarCoach.Engine.Ports;

namespace EarCoach.Engine.Sessions;

/// <content>From the sound to the verdicts.</content>
public sealed partial class PracticeSession
{
    private const double LongestBridgedSeconds = 1.5; // after a longer loss the ear begins anew

    /// <summary>Sound will come from a new stream (a microphone was opened, a page reloaded, a file chosen). An attempt under way is dropped.</summary>
    /// <param name="sampleRateHz">Samples a second, 16,000 to 192,000.</param>
    public void OpenStream(int sampleRateHz)
    {
        lock (_turn)
        {
            StartStream(sampleRateHz, originSample: 0);
            TellChange([]);
        }
    }

    /// <summary>Hears the next block of the stream. Blocks come in order; lost samples show as a later start and the block's mark.</summary>
    /// <exception cref="InvalidOperationException">No stream is open.</exception>
    public void Hear(AudioBlock block)
    {
        lock (_turn)
        {
            SessionStream stream = _stream ?? throw new InvalidOperationException("No stream is open. Call OpenStream first.");
            if (stream.LossBefore(block) is { } lost)
            {
                _feed.Publish(new SessionEvent.SoundLost(lost));
                stream = lost < LongestBridgedSeconds ? stream : StartStream(stream.SampleRateHz, block.StartSample);
            }

            foreach (SessionStream.Piece piece in stream.PiecesOf(block))
            {
                stream.Hear(block, piece);
                if (piece.EndsTick)
                {
                    Tick(stream);
                }
            }
        }
    }

    /// <summary>The stream has ended.</summary>
    /// <param name="decide">Whether what is under way is decided; else it is dropped: the player was cut off, and did not stop by himself.</param>
    public void CloseStream(bool decide = true)
    {
        lock (_turn)
        {
            if (_stream is { } stream)
            {
                if (decide)
                {
                    stream.Ear.Finish();
                    TakeAttempts(stream);
                }

                EndStream();
                TellChange([]);
            }
        }
    }

    /// <summary>The program's own cue is about to sound, and is none of the player's notes. Say so before it sounds.</summary>
    /// <param name="tonesHz">The pitches of the cue, in hertz.</param>
    /// <param name="seconds">How long it may be heard from now on; 10 at most.</param>
    public void ExpectCue(ImmutableArray<double> tonesHz, double seconds)
    {
        lock (_turn)
        {
            _stream?.ExpectCue(tonesHz, Math.Clamp(seconds, 0, 10));
        }
    }

    private SessionStream StartStream(int sampleRateHz, long originSample)
    {
        EndStream();
        _clockSeconds = Math.Max(_clockSeconds, (_time.GetUtcNow() - _start.StartedAt).TotalSeconds);
        SessionStream stream = new(sampleRateHz, _passages, _state.Plan, _options, _clockSeconds, originSample);
        if (TaskNow() is { } task)
        {
            stream.Ear.SetTask(task);
        }

        _stream = stream;
        return stream;
    }

    private void EndStream()
    {
        _clockSeconds = Math.Max(_clockSeconds, _stream?.ClockSeconds ?? 0);
        _stream = null;
    }

    private void Tick(SessionStream stream)
    {
        TakeAttempts(stream);
        _proposals.TimeIs(stream.ClockSeconds, stream.Ear.Live.State == EarState.Listening);
        SessionWord word = WordNow();
        bool turned = word != _toldWord;
        if (turned && word is SessionWord.Listening or SessionWord.Judging && _toldWord is SessionWord.Listening or SessionWord.Judging)
        {
            _toldWord = word; // back and forth in every rest of the passage: the next reading says so
        }
        else if (turned)
        {
            TellChange([]);
        }

        if (stream.LiveIsDue(_options.LiveEverySeconds) || turned)
        {
            LiveReading live = stream.Ear.Live;
            _feed.Publish(new SessionEvent.Live((double)live.AtSample / stream.SampleRateHz, live.FrequencyHz, live.LevelDbfs, word));
        }
    }

    private void TakeAttempts(SessionStream stream)
    {
        while (stream.Ear.TryTake(out AttemptResult? result))
        {
            if (_state.Phase == DrillPhase.Active && !_closed)
            {
                Take(stream, result);
            }
        }
    }

    private void Take(SessionStream stream, AttemptResult heard)
    {
        DrillTask task = _drill.TaskOf(_state)!;
        AttemptResult result = stream.Reviewed(heard, task);
        DrillInput input = new DrillInput.AttemptJudged(result.Verdict, stream.OffsetSeconds + result.StartSeconds, stream.OffsetSeconds + result.EndSeconds);
        DrillStep step = _drill.Reduce(_state, input);
        LoggedInput entry = new(_entries + 1, _time.GetLocalNow(), input);
        JudgedAttempt attempt = new(
            entry.Number, entry.At, task, result, TaskPassage.PassageNotesOf(task, _passages), Disputed: false, stream.ClipOf(result, _options.ClipMarginSeconds));
        _store.Append(Id, entry, attempt);

        _entries = entry.Number;
        _lastVerdict = _wording.ReportOf(attempt);
        Become(step);
        SessionView view = ViewNow();
        _toldWord = view.Word;
        _feed.Publish(new SessionEvent.Verdict(_lastVerdict, step.Effects, view));
    }
}
