using EarCoach.Core.Listening;

namespace EarCoach.Core.Judging;

/// <summary>A region of the stream: its frames, the samples they came from, and how frame numbers turn into time.</summary>
internal sealed class RegionSound(HeardFrame[] frames, AnalysisSamples samples, int factor, int sampleRateHz, double framesPerSecond)
{
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

    public double FrameOfSeconds(double seconds) => (seconds - (Frames[0].CentreSample / (double)sampleRateHz)) * FramesPerSecond;
}
