using EarCoach.Engine;

namespace EarCoach.Audio;

/// <summary>Raw PCM from a pipe: samples without a header.</summary>
public sealed class RawPcmSource : IAudioSource
{
    private readonly Stream _stream;
    private readonly FrameReader _frames;
    private readonly List<string> _remarks = [];
    private bool _ended;

    /// <summary>Takes over the stream and closes it when disposed.</summary>
    /// <param name="stream">Where the bytes come from.</param>
    /// <param name="sampleRateHz">16,000 to 192,000.</param>
    /// <param name="format">How a sample is stored.</param>
    /// <param name="channels">1 to 64; mixed to mono.</param>
    /// <exception cref="AudioException">The rate cannot be heard.</exception>
    public RawPcmSource(Stream stream, int sampleRateHz, SampleFormat format = SampleFormat.Signed16, int channels = 1)
    {
        ArgumentNullException.ThrowIfNull(stream);
        ArgumentOutOfRangeException.ThrowIfLessThan(channels, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(channels, 64);
        SampleRates.Check("The raw sound", sampleRateHz);
        _stream = stream;
        SampleRateHz = sampleRateHz;
        _frames = new FrameReader(bytes => _stream.Read(bytes.Span), format, channels);
        if (channels > 1)
        {
            _remarks.Add(WavFileSource.MixedRemark("The raw sound", channels));
        }
    }

    /// <inheritdoc/>
    public int SampleRateHz { get; }

    /// <inheritdoc/>
    public long? LengthSamples => null;

    /// <inheritdoc/>
    public long LostSamples => 0;

    /// <inheritdoc/>
    public IReadOnlyList<string> Remarks => _remarks;

    /// <inheritdoc/>
    public int Read(Span<float> samples)
    {
        if (_ended || samples.IsEmpty)
        {
            return 0;
        }

        int count = _frames.Read(samples);
        if (count == 0)
        {
            _ended = true;
            if (_frames.EndedWithinFrame)
            {
                _remarks.Add("The raw sound ended in the middle of a sample: check the format, rate and channels given for it.");
            }
        }

        return count;
    }

    /// <inheritdoc/>
    public void Dispose() => _stream.Dispose();
}
