using EarCoach.Audio;
using EarCoach.Engine;

namespace EarCoach.App.Commands;

/// <summary>Reads a source until its end or until the person stops the program, whichever comes first. The source stays the caller's.</summary>
internal sealed class StoppableSource : IAudioSource
{
    private static readonly TimeSpan _patience = TimeSpan.FromMilliseconds(300); // for the word that the person has stopped the program
    private readonly IAudioSource _source;
    private readonly CancellationToken _stop;
    private readonly CancellationTokenRegistration _registration;

    public StoppableSource(IAudioSource source, CancellationToken stop)
    {
        _source = source;
        _stop = stop;
        _registration = stop.Register(source.Dispose); // ends a read that waits
    }

    /// <summary>Whether the person stopped the program before the sound ended.</summary>
    public bool WasStopped => _stop.IsCancellationRequested;

    public int SampleRateHz => _source.SampleRateHz;

    public long? LengthSamples => _source.LengthSamples;

    public long LostSamples => _source.LostSamples;

    public IReadOnlyList<string> Remarks => _source.Remarks;

    /// <summary>Fills the span; 0 at the end of the sound, or when stopped.</summary>
    public int Read(Span<float> samples)
    {
        try
        {
            return WasStopped ? 0 : _source.Read(samples);
        }
        catch (Exception e) when ((e is AudioException or ObjectDisposedException or IOException or InvalidOperationException) && _stop.WaitHandle.WaitOne(_patience))
        {
            return 0; // closed under the read, or the recorder program was interrupted together with this one
        }
    }

    public void Dispose() => _registration.Dispose();
}
