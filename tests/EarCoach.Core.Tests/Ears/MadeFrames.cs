using EarCoach.Core.Judging;
using EarCoach.Core.Listening;

namespace EarCoach.Core.Tests.Ears;

/// <summary>A region of frames that were made up, 5 ms apart, without the samples that they would come from.</summary>
internal static class MadeFrames
{
    /// <summary>So many frames, each by its number.</summary>
    public static RegionSound Region(int count, Func<int, HeardFrame> frame) =>
        new([.. Enumerable.Range(0, count).Select(frame)], new AnalysisSamples(1), 1, 48_000, 200);
}
