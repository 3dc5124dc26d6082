namespace EarCoach.Core.Judging;

/// <summary>Hann's weights around a sample.</summary>
internal static class HannWindow
{
    /// <summary>The weights from so many samples before the centre to as many after it; 1 at the centre.</summary>
    public static double[] Around(int half)
    {
        var weights = new double[(2 * half) + 1];
        for (int i = -half; i <= half; i++)
        {
            weights[i + half] = 0.5 + (0.5 * Math.Cos(Math.PI * i / (half + 1)));
        }

        return weights;
    }
}
