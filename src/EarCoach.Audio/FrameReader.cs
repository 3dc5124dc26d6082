namespace EarCoach.Audio;

/// <summary>Reads whole frames from a stream of bytes that may come in any pieces, and hands them out as mono samples.</summary>
internal sealed class FrameReader
{
    private const int BufferBytes = 32_768;
    private readonly Func<Memory<byte>, int> _read;
    private readonly SampleFormat _format;
    private readonly int _channels;
    private readonly int _frameBytes;
    private readonly byte[] _buffer;
    private int _held; // bytes of an unfinished frame at the start of the buffer

    /// <param name="read">Reads up to so many bytes; 0 at the end.</param>
    /// <param name="format">How a sample is stored.</param>
    /// <param name="channels">At least 1.</param>
    public FrameReader(Func<Memory<byte>, int> read, SampleFormat format, int channels)
    {
        _read = read;
        _format = format;
        _channels = channels;
        _frameBytes = SampleDecoder.BytesOf(format) * channels;
        _buffer = new byte[Math.Max(BufferBytes / _frameBytes, 1) * _frameBytes];
    }

    /// <summary>Whether the sound ended in the middle of a frame.</summary>
    public bool EndedWithinFrame { get; private set; }

    /// <summary>Fills the span; 0 only at the end.</summary>
    public int Read(Span<float> samples)
    {
        if (samples.IsEmpty)
        {
            return 0;
        }

        int wanted = (int)Math.Min(_buffer.Length, (long)samples.Length * _frameBytes);
        while (_held < _frameBytes)
        {
            int got = _read(_buffer.AsMemory(_held, wanted - _held));
            if (got <= 0)
            {
                EndedWithinFrame = _held > 0;
                return 0;
            }

            _held += got;
        }

        int frames = _held / _frameBytes;
        int used = frames * _frameBytes;
        SampleDecoder.MixToMono(_buffer.AsSpan(0, used), _format, _channels, samples);
        _buffer.AsSpan(used, _held - used).CopyTo(_buffer);
        _held -= used;
        return frames;
    }
}
