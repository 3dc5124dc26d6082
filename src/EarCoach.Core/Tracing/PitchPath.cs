using EarCoach.Core.Listening;

namespace EarCoach.Core.Tracing;

/// <summary>The likeliest way through the candidates of successive frames, decided a fixed number of frames late.</summary>
/// <remarks>
/// The algorithm of Viterbi (1967) over the candidates of each frame and the state "no pitch"; each decision is read from the way that is best
/// when <see cref="Lag"/> more frames are known. The idea of candidates smoothed so: Boersma 1993; Mauch and Dixon 2014 (pYIN). The costs are
/// choices, made on recordings. Allocates nothing after construction.
/// </remarks>
internal sealed class PitchPath
{
    /// <summary>The most candidates of a frame.</summary>
    public const int Candidates = 5;

    private const int States = Candidates + 1; // the last: no pitch
    private const float ClarityForPitch = 0.55f;
    private const float ClaritySlope = 10;
    private const float TurnCost = 1.2f;       // from pitch to no pitch or back
    private const float JumpCost = 2.5f;       // to another note
    private const float GlideCost = 2.0f;      // for each semitone within a note
    private readonly float[] _cost = new float[States];
    private readonly float[] _newCost = new float[States];
    private readonly byte[] _back;
    private readonly PitchCandidate[] _candidates;
    private readonly int[] _counts;
    private readonly int _ring;
    private long _frames;

    /// <param name="lag">Frames that are awaited before one is decided; at least 1.</param>
    public PitchPath(int lag)
    {
        Lag = lag;
        _ring = lag + 1;
        _back = new byte[_ring * States];
        _candidates = new PitchCandidate[_ring * Candidates];
        _counts = new int[_ring];
    }

    /// <summary>Frames that are awaited before one is decided.</summary>
    public int Lag { get; }

    /// <summary>Takes the next frame's candidates.</summary>
    /// <param name="candidates">Likeliest first, at most <see cref="Candidates"/>.</param>
    /// <param name="loss">What speaks against any pitch here (a level near the room's), in log-weight, at least 0.</param>
    public void Add(ReadOnlySpan<PitchCandidate> candidates, float loss)
    {
        int slot = (int)(_frames % _ring);
        int before = (int)((_frames + _ring - 1) % _ring);
        Span<byte> back = _back.AsSpan(slot * States, States);
        ReadOnlySpan<PitchCandidate> old = _candidates.AsSpan(before * Candidates, _frames == 0 ? 0 : _counts[before]);
        for (int j = 0; j < States; j++)
        {
            if (j >= candidates.Length && j < Candidates)
            {
                _newCost[j] = float.PositiveInfinity;
                continue;
            }

            bool pitched = j < Candidates;
            float best = _frames == 0 ? 0 : _cost[Candidates] + (pitched ? TurnCost : 0);
            int from = Candidates;
            for (int i = 0; i < old.Length; i++)
            {
                float cost = _cost[i] + (pitched ? StepCost(old[i].Midi, candidates[j].Midi) : TurnCost);
                if (cost < best)
                {
                    best = cost;
                    from = i;
                }
            }

            back[j] = (byte)from;
            _newCost[j] = best + (pitched ? FrameCost(candidates[j], loss) : 0);
        }

        float least = _newCost[0];
        foreach (float cost in _newCost)
        {
            least = Math.Min(least, cost);
        }

        for (int j = 0; j < States; j++)
        {
            _cost[j] = _newCost[j] - least; // so that an hour's costs stay small numbers
        }

        candidates.CopyTo(_candidates.AsSpan(slot * Candidates));
        _counts[slot] = candidates.Length;
        _frames++;
    }

    /// <summary>The pitch of the frame that was added <paramref name="ago"/> frames before the newest; null: none.</summary>
    public PitchCandidate? Decide(int ago)
    {
        int state = 0;
        for (int j = 1; j < States; j++)
        {
            state = _cost[j] < _cost[state] ? j : state;
        }

        long at = _frames - 1;
        for (int k = 0; k < ago; k++, at--)
        {
            state = _back[((int)(at % _ring) * States) + state];
        }

        return state == Candidates ? null : _candidates[((int)(at % _ring) * Candidates) + state];
    }

    /// <summary>Afterwards it behaves as new.</summary>
    public void Reset() => _frames = 0;

    /// <summary>Cost of a candidate itself; that of no pitch is 0.</summary>
    internal static float FrameCost(PitchCandidate candidate, float loss) => loss - candidate.Weight - (ClaritySlope * (candidate.Clarity - ClarityForPitch));

    /// <summary>Cost of going from one frame's pitch to the next one's; null: no pitch.</summary>
    internal static float StepCost(float? from, float? to) =>
        from is { } a && to is { } b ? Math.Min(JumpCost, GlideCost * Math.Abs(b - a)) : from is null && to is null ? 0 : TurnCost;
}
