using System.Globalization;
using EarCoach.Engine;
using NAudio.Wave;

namespace EarCoach.Audio;

/// <summary>A WAV file, read block by block: an hour of sound never lies in memory whole.</summary>
/// <remarks>8, 16, 24 and 32-bit PCM, 32 and 64-bit floating point, plain or extensible headers, any number of channels (mixed to mono).
/// The one place that knows the library which reads the header.</remarks>
public sealed class WavFileSource : IAudioSource
{
    private readonly string _name;
    private readonly WaveFileReader _reader;
    private readonly FileStream _file;
    private readonly FrameReader _frames;
    private readonly List<string> _remarks = [];
    private long _left; // bytes of sound not yet read

    private WavFileSource(string name, FileStream file, WaveFileReader reader)
    {
        _name = name;
        _file = file;
        _reader = reader;
        WaveFormat format = reader.WaveFormat;
        SampleFormat stored = WavHeader.SampleFormatOf(name, format);
        SampleRates.Check($"'{name}'", format.SampleRate);
        SampleRateHz = format.SampleRate;
        int frameBytes = SampleDecoder.BytesOf(stored) * format.Channels;
        long held = file.Length - file.Position;
        long? promised = WavHeader.PromisedBytes(file, reader);
        _left = Math.Min(promised ?? held, held);
        LengthSamples = _left / frameBytes;
        if (LengthSamples == 0)
        {
            throw new AudioException(AudioFailure.NoSamples,
                $"'{name}' is a WAV file without a single sample. Check that the recorder was running, and record again.");
        }

        if (format.Channels > 1)
        {
            _remarks.Add(MixedRemark($"'{name}'", format.Channels));
        }

        if (promised is null)
        {
            _remarks.Add(string.Create(CultureInfo.InvariantCulture,
                $"'{name}' does not say how long it is (its recorder was stopped early, or wrote into a pipe): all {LengthSamples / (double)SampleRateHz:0.00} s in it were used."));
        }
        else if (promised / frameBytes > LengthSamples)
        {
            _remarks.Add(string.Create(CultureInfo.InvariantCulture,
                $"'{name}' is cut off: its header promises {promised / frameBytes / (double)SampleRateHz:0.00} s of sound, {LengthSamples / (double)SampleRateHz:0.00} s are there and were used."));
        }

        _frames = new FrameReader(ReadBytes, stored, format.Channels);
    }

    /// <inheritdoc/>
    public int SampleRateHz { get; }

    /// <inheritdoc/>
    public long? LengthSamples { get; }

    /// <inheritdoc/>
    public long LostSamples => 0;

    /// <inheritdoc/>
    public IReadOnlyList<string> Remarks => _remarks;

    /// <summary>Opens a WAV file and reads its header.</summary>
    /// <exception cref="AudioException">It is missing, empty, no WAV, broken, without samples, or in a format or rate that is not read.</exception>
    public static WavFileSource Open(string path)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        string name = Path.GetFileName(path);
        FileStream file = WavHeader.OpenFile(path);
        WaveFileReader? reader = null;
        try
        {
            WavHeader.CheckLeadingBytes(name, file);
            reader = WavHeader.Parse(name, file);
            return new WavFileSource(name, file, reader);
        }
        catch
        {
            reader?.Dispose();
            file.Dispose();
            throw;
        }
    }

    /// <inheritdoc/>
    public int Read(Span<float> samples) => _frames.Read(samples);

    /// <inheritdoc/>
    public void Dispose()
    {
        _reader.Dispose();
        _file.Dispose();
    }

    internal static string MixedRemark(string name, int channels) =>
        string.Create(CultureInfo.InvariantCulture, $"{name} has {channels} channels; they were mixed to one.");

    private int ReadBytes(Memory<byte> bytes)
    {
        try
        {
            int count = _file.Read(bytes.Span[..(int)Math.Min(bytes.Length, _left)]);
            _left -= count;
            return count;
        }
        catch (IOException e)
        {
            throw new AudioException(AudioFailure.Unreadable, $"'{_name}' could not be read to its end ({e.Message}). Copy it to another disk and try again.", e);
        }
    }
}
