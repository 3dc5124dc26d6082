namespace EarCoach.Core.Listening;

/// <summary>The last minutes of analysed samples, kept so that a judged note can be looked at again more closely.</summary>
public sealed class AnalysisSamples
{
    private readonly float[] _ring;

    /// <summary>Keeps at least this many samples.</summary>
    /// <param name="capacity">How many.</param>
    /// <param name="start">Where on the analysis clock the first one lies.</param>
    public AnalysisSamples(int capacity, long start = 0)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(capacity, 1);
        int size = 1;
        while (size < capacity)
        {
            size *= 2;
        }

        _ring = new float[size];
        End = start;
    }

    /// <summary>Samples ever appended.</summary>
    public long End { get; private set; }

    /// <summary>The first sample that is still kept.</summary>
    public long Begin => Math.Max(0, End - _ring.Length);

    /// <summary>Takes the next samples.</summary>
    public void Append(ReadOnlySpan<float> samples)
    {
        foreach (float x in samples)
        {
            _ring[End & (_ring.Length - 1)] = x;
            End++;
        }
    }

    /// <summary>The sample at this place of the analysis clock; 0 where nothing is kept.</summary>
    public float this[long at] => at >= Begin && at < End ? _ring[at & (_ring.Length - 1)] : 0f;

    /// <summary>Copies samples from a place of the analysis clock on; 0 where nothing is kept.</summary>
    public void CopyTo(long from, Span<float> to)
    {
        for (int i = 0; i < to.Length; i++)
        {
            to[i] = this[from + i];
        }
    }
}
