namespace EarCoach.Audio;

/// <summary>Carries samples from a capture thread to the reader, through a buffer of fixed size.</summary>
/// <remarks>When the reader is too slow, what arrives is dropped until the reader has emptied the buffer, and counted: lost samples are
/// reported, never smoothed over.</remarks>
internal sealed class SampleRing(int capacity)
{
    private readonly object _gate = new(); // a monitor, for it can wait
    private readonly float[] _samples = new float[capacity];
    private int _start;
    private int _count;
    private long _dropped;
    private bool _closed;

    /// <summary>Samples lost before the block that was read last.</summary>
    public long LostSamples { get; private set; }

    /// <summary>[capture thread] Copies the samples in, or counts them as dropped.</summary>
    public void Write(ReadOnlySpan<float> samples)
    {
        lock (_gate)
        {
            if (_closed)
            {
                return;
            }

            if (_count == 0)
            {
                LostSamples += _dropped; // the reader has everything from before the hole
                _dropped = 0;
            }

            if (_dropped > 0 || _count + samples.Length > _samples.Length)
            {
                _dropped += samples.Length;
            }
            else
            {
                int end = (_start + _count) % _samples.Length;
                int first = Math.Min(samples.Length, _samples.Length - end);
                samples[..first].CopyTo(_samples.AsSpan(end));
                samples[first..].CopyTo(_samples);
                _count += samples.Length;
            }

            Monitor.Pulse(_gate);
        }
    }

    /// <summary>[capture thread] So many samples were lost before the next ones arrive.</summary>
    public void Lose(long samples)
    {
        lock (_gate)
        {
            _dropped += samples;
        }
    }

    /// <summary>Nothing more will come; a waiting reader wakes.</summary>
    public void Close()
    {
        lock (_gate)
        {
            _closed = true;
            Monitor.PulseAll(_gate);
        }
    }

    /// <summary>[reader] Waits for samples; 0 once closed and empty.</summary>
    public int Read(Span<float> into)
    {
        if (into.IsEmpty)
        {
            return 0;
        }

        lock (_gate)
        {
            while (_count == 0)
            {
                LostSamples += _dropped; // what comes next comes after the hole
                _dropped = 0;
                if (_closed)
                {
                    return 0;
                }

                Monitor.Wait(_gate);
            }

            int count = Math.Min(into.Length, Math.Min(_count, _samples.Length - _start));
            _samples.AsSpan(_start, count).CopyTo(into);
            _start = (_start + count) % _samples.Length;
            _count -= count;
            return count;
        }
    }
}
