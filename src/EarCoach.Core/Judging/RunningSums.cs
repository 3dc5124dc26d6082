using System.Numerics;

namespace EarCoach.Core.Judging;

/// <summary>A harmonic's course in sums up to each step, so that any stretch of it is measured at once, however long.</summary>
internal sealed class RunningSums
{
    private readonly Complex[] _sum;
    private readonly Complex[] _first;  // times the step
    private readonly Complex[] _second; // times its square
    private readonly double[] _power;

    /// <summary>Sums a course up.</summary>
    /// <param name="course">Amplitude at each step.</param>
    public RunningSums(Complex[] course)
    {
        (_sum, _first, _second, _power) = (new Complex[course.Length + 1], new Complex[course.Length + 1], new Complex[course.Length + 1], new double[course.Length + 1]);
        for (int t = 0; t < course.Length; t++)
        {
            _sum[t + 1] = _sum[t] + course[t];
            _first[t + 1] = _first[t] + (course[t] * t);
            _second[t + 1] = _second[t] + (course[t] * ((double)t * t));
            _power[t + 1] = _power[t] + HarmonicProbe.PowerOf(course[t]);
        }
    }

    /// <summary>A stretch as one part of a tone.</summary>
    /// <param name="first">Its first step.</param>
    /// <param name="count">How many it has; at least one.</param>
    public TonePart Part(int first, int count) =>
        new((_sum[first + count] - _sum[first]) / count, Math.Max(0, _power[first + count] - _power[first]) / count);

    /// <summary>Sums of a stretch times the distance from a step, and times its square.</summary>
    /// <param name="first">The first step.</param>
    /// <param name="count">How many there are.</param>
    /// <param name="centre">The step from which distances count.</param>
    public (Complex First, Complex Second) Moments(int first, int count, int centre)
    {
        Complex sum = _sum[first + count] - _sum[first];
        Complex one = _first[first + count] - _first[first];
        Complex two = _second[first + count] - _second[first];
        return (one - (sum * centre), two - (one * (2 * centre)) + (sum * ((double)centre * centre)));
    }
}
