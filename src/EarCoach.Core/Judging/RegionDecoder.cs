using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>Finds the likeliest account of a region of sound: which note of the task, which rest, which other pitch sounds when.</summary>
/// <remarks>
/// A hidden Markov model over the notes of the task, decoded by the Viterbi algorithm (Rabiner 1989, Proc. IEEE 77, 257-286).
/// For each note there are states for the rest before it, the note itself, a hole in it, and every other semitone in its place; a note may be
/// skipped, and the passage may be begun again. So knowing the passage helps to find where notes begin and end, but never turns another
/// pitch into the right one. All costs are negative log-weights.
/// </remarks>
internal sealed class RegionDecoder
{
    // Costs, chosen on sounds of several instruments in several rooms; one nat is a factor of e in likelihood.
    private const float Scale = 0.22f;        // neighbouring frames share most of their samples: each counts as a part
    private const float SilenceScale = 0.34f;
    private const float SoundScale = 0.20f;
    private const float Enter = 0.5f;
    private const float EnterOther = 4.5f;
    private const float BreakTo = 5f;
    private const float Settle = 0.5f;
    private const float LeaveOther = 1.5f;
    private const float LeaveEarly = 6f;
    private const float Skip = 5f;
    private const float OpenHole = 3f;
    private const float CloseHole = 1f;
    private const float HoleSecond = 4f;      // for each second that a hole lasts: after a long one a note does not go on
    private const float RestSecond = 3f;      // likewise for a rest that is not written: who waits so long begins again
    private const double HesitationSeconds = 0.4;
    private const float NoGap = 0.8f;
    private const float SamePitchNoDip = 9f;
    private const float Stop = 4f;
    private const float LeastBest = -2f;      // what is heard far below a note may be a common period of two tones, but is not nothing
    private const int MostPeriods = 6;
    private const double CommonSemitones = 0.4;
    private const float BeginAgain = 6f;
    private const float BeginAgainWhileSounding = 9f;
    private const float BeginAgainAfterEnd = 1f;
    private const float EndAtOnce = 4f;

    private const int LongTaskNotes = 64;     // from here on the notes that no likely account is at are passed over
    private const float LeastLikely = 120f;   // what an account may lie behind the best one and still be followed
    private const int MostCells = 25_000_000; // of the table of ways back, at once
    private const double MostBytes = 200e6;
    private const int PerNote = 3; // rest, note, hole; then the other pitches
    private readonly TargetNote[] _targets;
    private readonly int _lowest;
    private readonly int _pitches;
    private readonly int _stride;
    private readonly int _states;
    private readonly double _tuning; // semitones
    private readonly double[] _lengthFrames;
    private readonly double[][] _commonPeriods;
    private readonly int _holeAfterFrames;
    private readonly float _holeFrame;
    private readonly float _restFrame;
    private readonly int[] _restAfterFrames;
    private int[] _since = [];     // for each state, the frame in which the sound of its note, or its rest, began on the best path to it
    private int[] _nextSince = [];
    private readonly bool[]? _live;     // null in a short task: every note is
    private readonly bool[] _reached;
    private readonly float[] _highest;

    public RegionDecoder(TargetNote[] targets, double tuningSemitones, double framesPerSecond)
    {
        _lengthFrames = [.. targets.Select(n => n.LengthSeconds * framesPerSecond)];
        _holeAfterFrames = (int)(0.05 * framesPerSecond);
        _holeFrame = (float)(HoleSecond / framesPerSecond);
        _restFrame = (float)(RestSecond / framesPerSecond);
        _restAfterFrames =
        [
            .. targets.Select((n, i) => (int)(framesPerSecond * (HesitationSeconds + (i == 0 ? 0 : n.OnsetSeconds - targets[i - 1].OnsetSeconds - targets[i - 1].LengthSeconds)))),
        ];
        _targets = targets;
        _tuning = tuningSemitones;
        double low = targets.Min(n => n.Midi);
        double high = targets.Max(n => n.Midi);
        _lowest = (int)Math.Round(low) - 13;
        _pitches = (int)Math.Round(high) + 13 - _lowest + 1;
        _stride = PerNote + _pitches;
        _states = (targets.Length * _stride) + 1;
        _commonPeriods = [.. targets.Select((note, i) => i == 0 ? [] : CommonPeriods(note.Midi + tuningSemitones, targets[i - 1].Midi + tuningSemitones))];
        _live = targets.Length > LongTaskNotes ? new bool[targets.Length] : null;
        _reached = new bool[targets.Length];
        _highest = new float[targets.Length];
    }

    /// <summary>Expected onsets, in frames, for a second pass; null in the first.</summary>
    public double[]? ExpectedFrames { get; init; }

    /// <summary>How loosely expected onsets bind, in frames.</summary>
    public double ExpectedSpreadFrames { get; init; } = 20;

    /// <summary>Whether the passage may begin again within the region.</summary>
    public bool MayBeginAgain { get; init; } = true;

    public List<PathStep> Decode(ReadOnlySpan<HeardFrame> frames, RegionEvidence evidence)
    {
        int count = frames.Length;
        int n = _targets.Length;
        int final = n * _stride;

        // Where the whole table of ways back would be too large, only the scores at the start of each block are kept, and its part of the
        // table is worked out once more when the trace comes to it: the same numbers in the same order.
        int block = count * (long)_states <= MostCells ? count : (int)Math.Ceiling(Math.Sqrt(2.0 * count));
        var starts = new List<(float[] Score, int[] Since)>();
        var back = new int[block * _states];
        var score = new float[_states];
        var next = new float[_states];
        _since = new int[_states];
        _nextSince = new int[_states];
        var weights = new Weights(new float[_pitches], new float[n], new float[n]);
        Array.Fill(score, float.NegativeInfinity);
        score[0] = 0; // the rest before the first note
        for (int from = 0; from < count; from += block)
        {
            if (block < count)
            {
                starts.Add(([.. score], [.. _since]));
            }

            Forward(frames, evidence, from, Math.Min(from + block, count), ref score, ref next, back, weights);
        }

        // End: after the last note, or stopped anywhere.
        int best = final;
        float bestScore = score[final];
        for (int i = 0; i < n; i++)
        {
            int at = i * _stride;
            bool last = i == n - 1;
            Offer(score[at] - (i == 0 ? 0f : Stop) + (MayBeginAgain && i > 0 ? _restFrame * OverdueFrames(count, i) : 0f), at, ref bestScore, ref best);
            Offer(score[at + 1] - (last ? 0f : Stop + 1), at + 1, ref bestScore, ref best);
            for (int q = 0; q < _pitches; q++)
            {
                Offer(score[at + PerNote + q] - LeaveOther - (last ? 0f : Stop + 1), at + PerNote + q, ref bestScore, ref best);
            }
        }

        var steps = new List<PathStep>();
        int end = count;
        int state = best;
        for (int from = (count - 1) / block * block; from >= 0; from -= block)
        {
            int until = Math.Min(from + block, count);
            if (until < count)
            {
                (float[] Score, int[] Since) start = starts[from / block];
                start.Score.CopyTo(score, 0);
                start.Since.CopyTo(_since, 0);
                Forward(frames, evidence, from, until, ref score, ref next, back, weights);
            }

            state = Trace(back, from, until, state, ref end, steps);
        }

        steps.Reverse();
        return steps;
    }

    /// <summary>The most frames that a region may have for the decoder to stay within its memory.</summary>
    public int MostFrames
    {
        get
        {
            // A block of the square root of twice the count holds as much as the scores kept at all block starts: 8 bytes a state each.
            double block = MostBytes / 8.0 / _states;
            return (int)Math.Clamp(0.5 * block * block, MostCells / _states, int.MaxValue / 4);
        }
    }

    private void Forward(
        ReadOnlySpan<HeardFrame> frames, RegionEvidence evidence, int from, int until, ref float[] score, ref float[] next, int[] back, Weights weights)
    {
        int n = _targets.Length;
        (float[] pitchWeight, float[] targetWeight, float[] bestWeight) = weights;
        Array.Fill(_reached, true);
        for (int t = from; t < until; t++)
        {
            float silence = evidence.Silence[t];
            float voicing = evidence.Voicing[t];
            float restGain = SilenceScale * silence;
            float soundGain = -SoundScale * silence;
            for (int q = 0; q < _pitches; q++)
            {
                pitchWeight[q] = RegionEvidence.LogWeight(frames[t], _lowest + q + _tuning, 0.5f, 0.8f);
            }

            FindLive(score);
            for (int i = 0; i < n; i++)
            {
                if (!IsLive(i))
                {
                    continue;
                }

                double pitch = _targets[i].Midi + _tuning;
                float best = RegionEvidence.BestNear(frames[t], pitch);
                bestWeight[i] = best < LeastBest && !IsCommonPeriod(in frames[t], i) ? LeastBest : best;
                float against = ExpectedFrames is null ? bestWeight[i] : best; // a note that is due may be masked for a while
                targetWeight[i] = soundGain + (Scale * voicing * Math.Max(-4f, RegionEvidence.LogWeight(frames[t], pitch) - against));
            }

            StepFrame(
                t, (t - from) * _states, evidence.Rise[t], evidence.Notch[t], score, next, back, new FrameGains(restGain, soundGain, Scale * voicing), pitchWeight, targetWeight, bestWeight);
            (score, next) = (next, score);
            (_since, _nextSince) = (_nextSince, _since);
        }
    }

    /// <summary>Whether the likeliest pitch of a frame is a common period of a note and the one before, which sounds on in the room.</summary>
    private bool IsCommonPeriod(in HeardFrame frame, int i)
    {
        foreach (double period in _commonPeriods[i])
        {
            if (Math.Abs(frame.Midi - period) < CommonSemitones)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>The pitches whose period is a whole number of periods, more than one, of each of two others.</summary>
    private static double[] CommonPeriods(double midi, double before) =>
    [
        .. Enumerable.Range(2, MostPeriods - 1).Select(times => midi - OctaveTest.SemitonesOf(times))
            .Where(pitch => Enumerable.Range(2, MostPeriods - 1).Any(times => Math.Abs(before - OctaveTest.SemitonesOf(times) - pitch) < CommonSemitones)),
    ];

    /// <summary>In a long task, finds the notes that some likely enough account is at.</summary>
    private void FindLive(float[] score)
    {
        if (_live is null)
        {
            return;
        }

        float best = score[^1];
        for (int i = 0; i < _live.Length; i++)
        {
            _highest[i] = _reached[i] ? Highest(score.AsSpan(i * _stride, _stride)) : float.NegativeInfinity;
            best = Math.Max(best, _highest[i]);
        }

        for (int i = 0; i < _live.Length; i++)
        {
            _live[i] = _highest[i] > best - LeastLikely;
        }

        for (int i = 0; i < _live.Length; i++)
        {
            _reached[i] = IsLive(i);
        }
    }

    private static float Highest(ReadOnlySpan<float> values)
    {
        float highest = float.NegativeInfinity;
        foreach (float value in values)
        {
            highest = Math.Max(highest, value);
        }

        return highest;
    }

    /// <summary>Whether a note can be reached in this frame: the likely accounts are at it or at one of the two before it.</summary>
    private bool IsLive(int i) => _live is null || i < 2 || _live[i] || _live[i - 1] || _live[i - 2];

    private readonly record struct Weights(float[] Pitch, float[] Target, float[] Best);

    private readonly record struct FrameGains(float Rest, float Sound, float Pitch);

    private static void Offer(float value, int from, ref float best, ref int bestFrom)
    {
        if (value > best)
        {
            best = value;
            bestFrom = from;
        }
    }

    private void StepFrame(int t, int row, float rise, float notch, float[] score, float[] next, int[] back, FrameGains gains, float[] pitchWeight, float[] targetWeight, float[] bestWeight)
    {
        int n = _targets.Length;
        int final = n * _stride;

        // Where the passage could be begun again from: any rest or note that is under way.
        float restart = float.NegativeInfinity;
        int restartFrom = -1;
        if (MayBeginAgain)
        {
            Offer(score[final] - BeginAgainAfterEnd, final, ref restart, ref restartFrom);
            for (int i = 1; i < n; i++)
            {
                int at = i * _stride;
                Offer(score[at] - BeginAgain + (_restFrame * OverdueFrames(t, i)), at, ref restart, ref restartFrom);
                float likely = t - _since[at + 1] < _holeAfterFrames ? 0 : (i == n - 1 ? 3 : 0) + Math.Min(3, Math.Max(0, rise - 3) * 0.5f);
                Offer(score[at + 1] - BeginAgainWhileSounding + likely, at + 1, ref restart, ref restartFrom);
            }
        }

        float throughNotch = Math.Clamp(1.2f * (notch - 5f), 0f, 6.5f); // a sound does not go on through a tongue stroke
        float bestPreviousOther = float.NegativeInfinity;
        int bestPreviousOtherFrom = -1;
        for (int i = 0; i < n; i++)
        {
            int at = i * _stride;
            if (!IsLive(i))
            {
                Array.Fill(next, float.NegativeInfinity, at, _stride);
                bestPreviousOther = float.NegativeInfinity;
                bestPreviousOtherFrom = at + PerNote;
                continue;
            }

            TargetNote target = _targets[i];
            float due = OnsetCost(t, i);
            float bestOther = float.NegativeInfinity;
            int bestOtherFrom = -1;
            for (int q = 0; q < _pitches; q++)
            {
                Offer(score[at + PerNote + q], at + PerNote + q, ref bestOther, ref bestOtherFrom);
            }

            int previous = at - _stride;
            float leaveNote = i > 0 ? LeaveCost(i - 1, t - _since[previous + 1], LeaveEarly) : 0f;
            float leaveNoteToRest = 0.5f * leaveNote;
            float leaveOther = LeaveOther + (i > 0 && bestPreviousOtherFrom >= 0 ? LeaveCost(i - 1, t - _since[bestPreviousOtherFrom], LeaveEarly) : 0f);

            // Rest before note i.
            float best = score[at];
            int from = at;
            if (i > 0)
            {
                Offer(score[previous + 1] - 0.3f - leaveNoteToRest, previous + 1, ref best, ref from);
                Offer(bestPreviousOther - leaveOther, bestPreviousOtherFrom, ref best, ref from);
                Offer(score[previous] - (_targets[i - 1].Required ? Skip : 0.5f), previous, ref best, ref from);
            }

            _nextSince[at] = from == at ? _since[at] : t;
            next[at] = best + gains.Rest - (MayBeginAgain && i > 0 && from == at && OverdueFrames(t, i) > 0 ? _restFrame : 0f);
            back[row + at] = from;

            // Note i.
            best = score[at + 1] - throughNotch;
            from = at + 1;
            Offer(score[at] - Enter - due, at, ref best, ref from);
            Offer(score[at + 2] - CloseHole, at + 2, ref best, ref from);
            Offer(bestOther - Settle, bestOtherFrom, ref best, ref from);
            if (i > 0)
            {
                bool same = Math.Abs(target.Midi - _targets[i - 1].Midi) < 0.5;
                float join = same ? Math.Max(0.8f, SamePitchNoDip - (1.5f * Math.Max(0, rise - 2))) : target.Slurred ? 0.3f : NoGap;
                Offer(score[previous + 1] - join - leaveNote - due, previous + 1, ref best, ref from);
                Offer(bestPreviousOther - leaveOther - due, bestPreviousOtherFrom, ref best, ref from);
                if (i > 1)
                {
                    Offer(score[previous - _stride + 1] - Skip - 0.8f - due, previous - _stride + 1, ref best, ref from);
                }
            }

            if (i == 0)
            {
                Offer(restart - Enter, restartFrom, ref best, ref from);
            }

            next[at + 1] = best + targetWeight[i];
            back[row + at + 1] = from;
            _nextSince[at + 1] = from > at && from < at + _stride ? _since[from] : t;

            // A hole in note i.
            best = score[at + 2];
            from = at + 2;
            if (t - _since[at + 1] >= _holeAfterFrames)
            {
                Offer(score[at + 1] - OpenHole, at + 1, ref best, ref from);
            }

            next[at + 2] = best + Math.Max(gains.Rest, targetWeight[i] - 0.1f) - _holeFrame;
            back[row + at + 2] = from;
            _nextSince[at + 2] = _since[from];

            // Other pitches in its place.
            float enter = score[at] - EnterOther - due;
            int enterFrom = at;
            Offer(score[at + 1] - BreakTo, at + 1, ref enter, ref enterFrom);
            Offer(bestOther - LeaveOther - EnterOther, bestOtherFrom, ref enter, ref enterFrom);
            if (i > 0)
            {
                Offer(score[previous + 1] - EnterOther - leaveNote - due, previous + 1, ref enter, ref enterFrom);
                Offer(bestPreviousOther - leaveOther - EnterOther - due, bestPreviousOtherFrom, ref enter, ref enterFrom);
            }

            if (i == 0)
            {
                Offer(restart - EnterOther, restartFrom, ref enter, ref enterFrom);
            }

            for (int q = 0; q < _pitches; q++)
            {
                int state = at + PerNote + q;
                double above = _lowest + q - target.Midi;
                if (Math.Abs(above) < 0.5 || above < -RegionEvidence.FarBelow + 0.5)
                {
                    next[state] = float.NegativeInfinity;
                    back[row + state] = state;
                    continue;
                }

                float stay = score[state] - throughNotch;
                bool moves = enter > stay;
                next[state] = (moves ? enter : stay) + gains.Sound + (gains.Pitch * Math.Clamp(pitchWeight[q] - bestWeight[i], -4f, 0f));
                back[row + state] = moves ? enterFrom : state;
                _nextSince[state] = !moves ? _since[state] : enterFrom > at && enterFrom < at + _stride ? _since[enterFrom] : t;
            }

            bestPreviousOther = bestOther;
            bestPreviousOtherFrom = bestOtherFrom;
        }

        // After the last note.
        float end = score[final];
        int endFrom = final;
        int lastAt = final - _stride;
        float tooShort = n > 1 && t - _since[lastAt + 1] < _holeAfterFrames ? EndAtOnce : 0f; // its attack is not over
        Offer(score[lastAt + 1] - 0.3f - tooShort - (0.5f * LeaveCost(n - 1, t - _since[lastAt + 1], LeaveEarly)), lastAt + 1, ref end, ref endFrom);
        Offer(bestPreviousOther - LeaveOther, bestPreviousOtherFrom, ref end, ref endFrom);
        Offer(score[lastAt] - Skip, lastAt, ref end, ref endFrom);
        next[final] = end + gains.Rest;
        back[row + final] = endFrom;
    }

    /// <summary>How long the rest before a note has lasted beyond what is written.</summary>
    private int OverdueFrames(int t, int index) => Math.Max(0, t - _since[index * _stride] - _restAfterFrames[index]);

    /// <summary>A note is seldom left long before its written length is over.</summary>
    private float LeaveCost(int index, int age, float early)
    {
        double share = age / _lengthFrames[index];
        return share < 0.5 ? early * (float)(1 - (2 * share)) : 0f;
    }

    private float OnsetCost(int t, int index)
    {
        if (ExpectedFrames is null)
        {
            return 0f;
        }

        double off = (t - ExpectedFrames[index]) / ExpectedSpreadFrames;
        return (float)Math.Min(4.0, 0.5 * off * off);
    }

    private int Trace(int[] back, int first, int until, int state, ref int end, List<PathStep> steps)
    {
        for (int t = until - 1; t >= first; t--)
        {
            int from = back[((t - first) * _states) + state];
            if (from != state || t == 0)
            {
                steps.Add(Describe(state, t, end));
                end = t;
            }

            state = from;
        }

        return state;
    }

    private PathStep Describe(int state, int first, int end)
    {
        int index = state / _stride;
        int part = state % _stride;
        return part switch
        {
            0 => new PathStep(Activity.Rest, index, 0, first, end),
            1 => new PathStep(Activity.Note, index, 0, first, end),
            2 => new PathStep(Activity.Hole, index, 0, first, end),
            _ => new PathStep(Activity.Other, index, _lowest + part - PerNote, first, end),
        };
    }
}
