namespace EarCoach.Core.Listening;

/// <summary>The shifts by which a window matches itself, and how likely each is to be its period. Allocates nothing after construction.</summary>
/// <remarks>
/// Weighed by what a shift leaves over against the least that any leaves over (the idea of Mauch and Dixon 2014: several candidates with
/// weights instead of one chosen by a threshold); a multiple of a period is believed only with harmonics of its own.
/// </remarks>
internal sealed class PeakList(int capacity)
{
    /// <summary>Peaks that match less well are none.</summary>
    public const float LeastClarity = 0.25f;

    private const float ResidualFloor = 0.01f; // differences of clarity below this mean nothing
    private const float ResidualSlope = 1.5f;  // log-weight lost when the residual grows e-fold
    private const float NearWhole = 0.04f;     // how far a ratio of two shifts may stray from a whole number, as a share of it
    private const float MultipleCost = 4f;
    private const float PartCost = 3f;
    private readonly float[] _shift = new float[capacity];
    private readonly float[] _clarity = new float[capacity];
    private readonly float[] _weight = new float[capacity];
    private readonly float[] _loss = new float[capacity];

    /// <summary>Tells how surely a sound has harmonics that a period so many times shorter would lack: 0 no, 1 yes.</summary>
    public interface IOwnHarmonics
    {
        float Of(float shift, int times);
    }

    public int Count { get; private set; }

    public bool IsFull => Count == _shift.Length;

    public float ShiftOf(int peak) => _shift[peak];

    public float ClarityOf(int peak) => _clarity[peak];

    public void Clear() => Count = 0;

    /// <summary>Adds a peak from three neighbouring values, the middle one the highest. Shifts grow from peak to peak.</summary>
    public void Add(int shift, float before, float here, float after)
    {
        (float offset, float height) = Parabola(before, here, after);
        _shift[Count] = shift + offset;
        _clarity[Count] = Math.Min(1f, height);
        Count++;
    }

    /// <summary>Weighs the peaks against each other.</summary>
    /// <param name="ownHarmonics">Asked where a shift by several periods leaves hardly more over than a shift by one.</param>
    /// <param name="hardlyMore">How much more, as a logarithm of the ratio.</param>
    public void Weigh<TOwn>(TOwn ownHarmonics, float hardlyMore)
        where TOwn : IOwnHarmonics, allows ref struct
    {
        float least = 1;
        for (int i = 0; i < Count; i++)
        {
            least = Math.Min(least, 1 - _clarity[i]);
        }

        for (int i = 0; i < Count; i++)
        {
            // What does not repeat, against the least that any shift leaves over: the residual of a wrong period is many times larger.
            float residual = ResidualFloor + 1 - _clarity[i];
            float weight = -ResidualSlope * MathF.Log(residual / (ResidualFloor + least));
            for (int j = 0; j < i; j++)
            {
                // A shift by two or more periods leaves no more over than a shift by one: the shortest such shift is the period.
                float ratio = _shift[i] / _shift[j];
                float nearest = MathF.Round(ratio);
                if (nearest >= 2 && MathF.Abs(ratio - nearest) < NearWhole * nearest)
                {
                    float excess = MathF.Log((ResidualFloor + 1 - _clarity[j]) / residual);
                    float multiple = Math.Clamp(1 - (excess / hardlyMore), 0f, 1f);
                    if (multiple > 0)
                    {
                        // Nearly as good, then: the spectrum tells whether the longer period has harmonics of its own.
                        float own = ownHarmonics.Of(_shift[i], (int)nearest);
                        weight -= MultipleCost * multiple * (1 - own);
                        _loss[j] = Math.Max(_loss[j], PartCost * own * multiple);
                        break;
                    }
                }
            }

            _weight[i] = weight;
            _loss[i] = 0;
        }

        for (int i = 0; i < Count; i++)
        {
            _weight[i] -= _loss[i];
        }
    }

    /// <summary>Takes the likeliest peak that was not taken yet; call at most <see cref="Count"/> times.</summary>
    public int TakeBest(out float weight)
    {
        int at = 0;
        for (int i = 1; i < Count; i++)
        {
            if (_weight[i] > _weight[at])
            {
                at = i;
            }
        }

        weight = _weight[at];
        _weight[at] = float.NegativeInfinity;
        return at;
    }

    /// <summary>The top of the parabola through three neighbouring values, from the middle one.</summary>
    public static (float Offset, float Height) Parabola(float before, float here, float after)
    {
        float bend = before - (2 * here) + after;
        if (bend >= 0)
        {
            return (0f, here);
        }

        float offset = Math.Clamp(0.5f * (before - after) / bend, -0.5f, 0.5f);
        return (offset, here - (0.25f * (before - after) * offset));
    }
}
