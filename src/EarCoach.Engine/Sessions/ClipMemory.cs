using EarCoach.Engine.Ports;

namespace EarCoach.Engine.Sessions;

/// <summary>Remembers the newest samples of a stream as 16-bit numbers, so that an attempt's sound can be kept. Samples lost are silence.</summary>
internal sealed class ClipMemory(int sampleRateHz, double seconds)
{
    private readonly short[] _ring = new short[checked((int)(sampleRateHz * seconds))];
    private long _end; // one past the newest sample
    private long _begin; // the oldest sample remembered

    public void Hear(ReadOnlySpan<float> samples, long startSample)
    {
        if (startSample > _end)
        {
            Forget(startSample - _end);
        }

        foreach (float sample in samples)
        {
            _ring[_end % _ring.Length] = (short)Math.Clamp(MathF.Round(sample * 32767f), short.MinValue, short.MaxValue);
            _end++;
        }

        _begin = Math.Max(_begin, _end - _ring.Length);
    }

    /// <summary>The part of the span that is remembered; perhaps empty.</summary>
    public AttemptClip Clip(long fromSample, long toSample)
    {
        long from = Math.Clamp(fromSample, _begin, _end);
        long to = Math.Clamp(toSample, from, _end);
        short[] samples = new short[to - from];
        for (long i = from; i < to; i++)
        {
            samples[i - from] = _ring[i % _ring.Length];
        }

        return new AttemptClip(sampleRateHz, from, samples);
    }

    private void Forget(long lost)
    {
        if (lost >= _ring.Length)
        {
            Array.Clear(_ring);
            _end += lost;
            _begin = _end;
            return;
        }

        for (long i = 0; i < lost; i++)
        {
            _ring[_end % _ring.Length] = 0;
            _end++;
        }
    }
}
