using System.Runtime.InteropServices;
using System.Runtime.Versioning;
using EarCoach.Engine;
using NAudio.CoreAudioApi;
using NAudio.Wave;

namespace EarCoach.Audio;

/// <summary>The default microphone of Windows, in shared mode at the device's own rate.</summary>
[SupportedOSPlatform("windows")]
internal sealed class WindowsCaptureSource : IAudioSource
{
    private const int RingSeconds = 10;
    private readonly WasapiRecorder _capture;
    private readonly SampleRing _ring;
    private readonly SampleFormat _format;
    private readonly int _channels;
    private readonly float[] _mono;
    private Exception? _failure;
    private long _nextDeviceFrame = -1;

    private WindowsCaptureSource(WasapiRecorder capture, bool untouched)
    {
        _capture = capture;
        WaveFormat given = capture.WaveFormat;
        _format = WavHeader.SampleFormatOf("the microphone", given);
        _channels = given.Channels;
        SampleRates.Check("The microphone", given.SampleRate);
        SampleRateHz = given.SampleRate;
        _ring = new SampleRing(RingSeconds * SampleRateHz);
        _mono = new float[SampleRateHz];
        string[] altered = untouched ? [] : ["Windows may be changing the sound of this microphone (enhancements): turn them off in its settings."];
        Remarks = _channels > 1 ? [WavFileSource.MixedRemark("The microphone", _channels), .. altered] : altered;
        capture.DataAvailable += (buffer, flags, devicePosition, _) =>
            Take(buffer, (flags & AudioClientBufferFlags.Silent) != 0, (long)devicePosition);
        capture.RecordingStopped += (_, e) =>
        {
            _failure = e.Exception;
            _ring.Close();
        };
    }

    /// <inheritdoc/>
    public int SampleRateHz { get; }

    /// <inheritdoc/>
    public long? LengthSamples => null;

    /// <inheritdoc/>
    public long LostSamples => _ring.LostSamples;

    /// <inheritdoc/>
    public IReadOnlyList<string> Remarks { get; }

    /// <summary>Opens the microphone and starts to record: untouched by the effects of the system where the device allows it.</summary>
    /// <exception cref="AudioException">There is none, or Windows does not let it be used.</exception>
    public static WindowsCaptureSource Open()
    {
        try
        {
            return Start(untouched: true);
        }
        catch (InvalidOperationException)
        {
            // the device has no raw mode: take it as it is, and say so
        }
        catch (COMException e)
        {
            throw CannotOpen(e);
        }

        try
        {
            return Start(untouched: false);
        }
        catch (Exception e) when (e is COMException or InvalidOperationException or UnauthorizedAccessException)
        {
            throw CannotOpen(e);
        }
    }

    /// <inheritdoc/>
    public int Read(Span<float> samples)
    {
        int count = _ring.Read(samples);
        return count == 0 && _failure is { } failure
            ? throw new AudioException(AudioFailure.CaptureFailed, $"The microphone stopped ({failure.Message}). Check its plug and start again.", failure)
            : count;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _ring.Close();
        _capture.Dispose();
    }

    private static WindowsCaptureSource Start(bool untouched)
    {
        WasapiRecorderBuilder builder = new WasapiRecorderBuilder().WithSharedMode().WithEventSync().WithBufferLength(20);
        WasapiRecorder capture = (untouched ? builder.WithRawMode() : builder).Build();
        try
        {
            var source = new WindowsCaptureSource(capture, untouched);
            capture.StartRecording();
            return source;
        }
        catch
        {
            capture.Dispose();
            throw;
        }
    }

    private static AudioException CannotOpen(Exception e) => new(AudioFailure.NoRecorder,
        $"The microphone could not be opened ({e.Message}). Connect one, and allow desktop programs to use it in the privacy settings of Windows.", e);

    private void Take(ReadOnlySpan<byte> frames, bool silent, long deviceFrame)
    {
        int frameBytes = SampleDecoder.BytesOf(_format) * _channels;
        if (_nextDeviceFrame >= 0 && deviceFrame > _nextDeviceFrame)
        {
            _ring.Lose(deviceFrame - _nextDeviceFrame);
        }

        _nextDeviceFrame = deviceFrame + (frames.Length / frameBytes);
        while (frames.Length >= frameBytes)
        {
            int count = Math.Min(frames.Length / frameBytes, _mono.Length);
            SampleDecoder.MixToMono(frames[..(count * frameBytes)], _format, _channels, _mono);
            if (silent)
            {
                _mono.AsSpan(0, count).Clear(); // the bytes are undefined then
            }

            _ring.Write(_mono.AsSpan(0, count));
            frames = frames[(count * frameBytes)..];
        }
    }
}
