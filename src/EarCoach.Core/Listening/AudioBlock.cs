namespace EarCoach.Core.Listening;

/// <summary>Mono samples in [-1, 1] and their place on the capture clock: samples since the stream opened.</summary>
/// <remarks>The span is borrowed: valid only during the call it is passed to.</remarks>
public readonly ref struct AudioBlock(ReadOnlySpan<float> samples, long startSample, bool followsGap = false)
{
    /// <summary>The samples.</summary>
    public ReadOnlySpan<float> Samples { get; } = samples;

    /// <summary>Index of the first of them on the capture clock.</summary>
    public long StartSample { get; } = startSample;

    /// <summary>Whether samples were lost just before this block.</summary>
    public bool FollowsGap { get; } = followsGap;
}
