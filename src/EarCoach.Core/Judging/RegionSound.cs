using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>A region of the stream: its frames, the samples they came from, and how frame numbers turn into time.</summary>
internal sealed class RegionSound(HeardFrame[] frames, AnalysisSamples samples, int factor, int sampleRateHz, double framesPerSecond)
{
    private const double LoudShare = 0.8;

    public HeardFrame[] Frames { get; } = frames;

    public double FramesPerSecond { get; } = framesPerSecond;

    public double AnalysisRateHz => (double)sampleRateHz / factor;

    public AnalysisSamples Samples { get; } = samples;

    /// <summary>Place of a frame's centre on the clock of the analysed samples.</summary>
    public double AnalysisSampleOf(double frame)
    {
        int whole = Math.Clamp((int)Math.Floor(frame), 0, Frames.Length - 1);
        return (Frames[whole].CentreSample / (double)factor) + ((frame - whole) * AnalysisRateHz / FramesPerSecond);
    }

    /// <summary>Seconds on the capture clock of a place on the clock of the analysed samples.</summary>
    public double SecondsOf(double analysisSample) => analysisSample / AnalysisRateHz;

    public double SecondsOfFrame(double frame) => SecondsOf(AnalysisSampleOf(frame));

    /// <summary>Level of the loudest frame of a stretch, in dBFS; negative infinity where it has none.</summary>
    /// <param name="from">Its first frame.</param>
    /// <param name="end">The frame after its last.</param>
    public float LoudestDbfs(int from, int end)
    {
        float loudest = float.NegativeInfinity;
        foreach (HeardFrame frame in Frames.AsSpan(from, end - from))
        {
            loudest = Math.Max(loudest, frame.LevelDbfs);
        }

        return loudest;
    }

    /// <summary>Median level of the frames of a stretch, in dBFS.</summary>
    /// <param name="from">Its first frame.</param>
    /// <param name="end">The frame after its last; at least one frame later.</param>
    public float MedianDbfs(int from, int end)
    {
        float[] levels = LevelsInOrder(from, end);
        return levels[levels.Length / 2];
    }

    /// <summary>How far the frames of some steps stand above the noise floor, as their median in dB; null when there are none.</summary>
    public float? MedianAboveFloorDb(IEnumerable<PathStep> steps)
    {
        float[] above = [.. steps.SelectMany(s => Frames[s.FirstFrame..s.EndFrame]).Select(f => f.AboveFloorDb).Order()];
        return above.Length > 0 ? above[above.Length / 2] : null;
    }

    /// <summary>Level of the louder frames of a stretch, in dBFS: what one in five exceeds.</summary>
    /// <param name="from">Its first frame.</param>
    /// <param name="end">The frame after its last; at least one frame later.</param>
    public float LevelDbfs(int from, int end) => LevelOf(LevelsInOrder(from, end));

    /// <summary>What one in five of some levels exceeds.</summary>
    /// <param name="inOrder">The levels, lowest first; at least one.</param>
    public static float LevelOf(IReadOnlyList<float> inOrder) => inOrder[(int)(LoudShare * (inOrder.Count - 1))];

    public double FrameOfSeconds(double seconds) => (seconds - (Frames[0].CentreSample / (double)sampleRateHz)) * FramesPerSecond;

    /// <summary>The frame at a moment; its first or the end of its last where the region has none then.</summary>
    public int FrameAt(double seconds) => Math.Clamp((int)FrameOfSeconds(seconds), 0, Frames.Length);

    /// <summary>Whether the program's own cue is heard between two moments.</summary>
    public bool HoldsCue(double fromSeconds, double toSeconds)
    {
        int from = FrameAt(fromSeconds);
        int to = Math.Clamp((int)Math.Ceiling(FrameOfSeconds(toSeconds)), from, Frames.Length);
        return Frames[from..to].Any(frame => frame.Deaf);
    }

    private float[] LevelsInOrder(int from, int end) => [.. Frames[from..end].Select(f => f.LevelDbfs).Order()];
}
