namespace EarCoach.Engine;

/// <summary>Mono samples from a file, a pipe or a microphone, in order.</summary>
/// <remarks>One reader at a time. Disposing from another thread ends a read that waits.</remarks>
public interface IAudioSource : IDisposable
{
    /// <summary>Samples a second, 16,000 to 192,000.</summary>
    int SampleRateHz { get; }

    /// <summary>How many samples there will be; null when nobody can know (a pipe, a microphone).</summary>
    long? LengthSamples { get; }

    /// <summary>Samples that the source had to drop so far. What was dropped came just before the block read last.</summary>
    long LostSamples { get; }

    /// <summary>What the person should be told about this source, in plain sentences: channels mixed, a file cut off.</summary>
    IReadOnlyList<string> Remarks { get; }

    /// <summary>Fills the span from its start with samples in [-1, 1]; waits for at least one.</summary>
    /// <returns>How many were written; 0 only at the end of the sound.</returns>
    int Read(Span<float> samples);
}
