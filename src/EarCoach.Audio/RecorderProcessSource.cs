using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;
using EarCoach.Engine;

namespace EarCoach.Audio;

/// <summary>A microphone through a recorder program of the system (parec of PulseAudio and PipeWire, arecord of ALSA) that writes raw PCM to a pipe.</summary>
internal sealed class RecorderProcessSource : IAudioSource
{
    private readonly Process _process;
    private readonly RawPcmSource _sound;
    private readonly Task<string> _complaint;
    private volatile bool _disposed;

    private RecorderProcessSource(Process process, int sampleRateHz)
    {
        _process = process;
        _complaint = process.StandardError.ReadToEndAsync();
        _sound = new RawPcmSource(process.StandardOutput.BaseStream, sampleRateHz);
    }

    /// <inheritdoc/>
    public int SampleRateHz => _sound.SampleRateHz;

    /// <inheritdoc/>
    public long? LengthSamples => null;

    /// <inheritdoc/>
    public long LostSamples => 0;

    /// <inheritdoc/>
    public IReadOnlyList<string> Remarks => _sound.Remarks;

    /// <summary>Starts the first recorder program that the system has.</summary>
    /// <exception cref="AudioException">It has none, or the rate cannot be heard.</exception>
    public static RecorderProcessSource Open(int sampleRateHz) => Open(sampleRateHz, Programs(sampleRateHz));

    /// <summary>Starts the first of these programs that can be started.</summary>
    internal static RecorderProcessSource Open(int sampleRateHz, IEnumerable<(string Program, string[] Arguments)> programs)
    {
        SampleRates.Check("The microphone", sampleRateHz);
        foreach ((string program, string[] arguments) in programs)
        {
            var start = new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
            try
            {
                if (Process.Start(start) is { } process)
                {
                    return new RecorderProcessSource(process, sampleRateHz);
                }
            }
            catch (Win32Exception)
            {
                // not installed: try the next
            }
        }

        throw new AudioException(AudioFailure.NoRecorder,
            "No program that records was found: neither parec (package pulseaudio-utils) nor arecord (package alsa-utils). "
            + "Install one of them, or pipe raw sound in and give - as the recording.");
    }

    /// <inheritdoc/>
    public int Read(Span<float> samples)
    {
        int count;
        try
        {
            count = _sound.Read(samples);
        }
        catch (Exception e) when (_disposed && e is IOException or ObjectDisposedException)
        {
            return 0;
        }

        if (count == 0 && !samples.IsEmpty && !_disposed && _process.WaitForExit(1000) && _process.ExitCode != 0)
        {
            string said = _complaint.GetAwaiter().GetResult().Trim().ReplaceLineEndings(" ");
            throw new AudioException(AudioFailure.CaptureFailed, string.Create(CultureInfo.InvariantCulture,
                $"The recorder '{_process.StartInfo.FileName}' stopped with code {_process.ExitCode}{(said.Length > 0 ? $" and said: {said}" : string.Empty)}. Check that a microphone is connected and allowed."));
        }

        return count;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (_disposed)
        {
            return;
        }

        _disposed = true;
        try
        {
            _process.Kill();
        }
        catch (InvalidOperationException)
        {
            // it has ended by itself
        }

        _sound.Dispose();
        _process.Dispose();
    }

    private static IEnumerable<(string Program, string[] Arguments)> Programs(int rateHz)
    {
        string rate = rateHz.ToString(CultureInfo.InvariantCulture);
        yield return ("parec", ["--raw", "--format=s16le", "--channels=1", $"--rate={rate}", "--latency-msec=20", "--client-name=EarCoach"]);
        yield return ("arecord", ["-q", "-t", "raw", "-f", "S16_LE", "-c", "1", "-r", rate]);
    }
}
