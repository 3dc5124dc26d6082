using System.Numerics;

namespace EarCoach.Core.Judging;

/// <summary>How much a stretch of a note looks like before, hole and after of a second stroke, one length of hole at all places.</summary>
internal sealed class StrokeShape
{
    private const double MostFallDb = 12;           // more says nothing new
    private const double MostRiseDb = 4;
    private const double MostGain = 3;
    private const double MostLoss = 1.5;
    private const double Floor = 0.01;              // what no model explains, as a share of the power
    private readonly int _hole;                     // all in steps
    private readonly int _side;
    private readonly int _reach;
    private readonly int[] _offsets;
    private readonly double[][] _smooth;            // orthonormal: a constant, a slope and a bend

    /// <summary>Makes a shape.</summary>
    /// <param name="halfHole">From the centre of the hole to its edge, in steps.</param>
    /// <param name="edge">From the hole's edge to the sound beside it.</param>
    /// <param name="side">Length of that sound.</param>
    public StrokeShape(int halfHole, int edge, int side)
    {
        _hole = (2 * halfHole) + 1;
        _side = side;
        _reach = halfHole + edge + side - 1;
        int[] before = [.. Enumerable.Range(-_reach, side)];
        _offsets = [.. before, .. Enumerable.Range(-halfHole, _hole), .. before.Reverse().Select(o => -o)];
        _smooth = LeastSquares.Polynomials([.. _offsets.Select(o => o / (double)_reach)], degree: 2);
    }

    /// <summary>From the centre to the farthest sample that is looked at.</summary>
    public int Reach => _reach;

    /// <summary>Measures the shape at one place.</summary>
    /// <param name="tracks">The note's harmonics.</param>
    /// <param name="centre">The place, at least <see cref="Reach"/> from both ends.</param>
    public StrokeReading At(HarmonicTracks tracks, int centre)
    {
        int kinds = tracks.Weights.Length;
        var falls = new double[kinds];
        double fall = 0, gain = 0;
        Span<Complex> course = stackalloc Complex[_offsets.Length];
        for (int k = 0; k < kinds; k++)
        {
            double total = 0;
            for (int i = 0; i < _offsets.Length; i++)
            {
                course[i] = tracks.Amplitudes[k][centre + _offsets[i]];
                total += HarmonicProbe.PowerOf(course[i]);
            }

            TonePart before = TonePart.Of(course[.._side]);
            TonePart hole = TonePart.Of(course.Slice(_side, _hole));
            TonePart after = TonePart.Of(course[(_side + _hole)..]);
            double steps = total - (_side * before.Coherent) - (_hole * hole.Coherent) - (_side * after.Coherent);
            double floor = (Floor * total) + 1e-18;
            double weight = tracks.Weights[k];
            gain += weight * Math.Clamp(Math.Log((Bent(course, total) + floor) / (steps + floor)), -MostLoss, MostGain);
            falls[k] = 10 * Math.Log10((Math.Min(before.Power, after.Power) + 1e-18) / (hole.Power + 1e-18));
            fall += weight * Math.Clamp(falls[k], -MostRiseDb, MostFallDb);
        }

        double level = LevelFall(tracks.LevelPower, centre);
        return new StrokeReading(Math.Min(fall, level), LowerQuartile(falls), gain);
    }

    /// <summary>What a smooth course leaves over.</summary>
    private double Bent(ReadOnlySpan<Complex> course, double total)
    {
        foreach (double[] smooth in _smooth)
        {
            total -= HarmonicProbe.PowerOf(LeastSquares.Dot(smooth, course));
        }

        return Math.Max(0, total);
    }

    private double LevelFall(double[] power, int centre)
    {
        double Mean(int first, int count)
        {
            double sum = 0;
            for (int i = first; i < first + count; i++)
            {
                sum += power[centre + _offsets[i]];
            }

            return sum / count;
        }

        double beside = Math.Min(Mean(0, _side), Mean(_side + _hole, _side));
        return 10 * Math.Log10((beside + 1e-18) / (Mean(_side, _hole) + 1e-18));
    }

    private static double LowerQuartile(double[] values)
    {
        Array.Sort(values);
        double at = 0.25 * (values.Length - 1);
        int whole = (int)at;
        return whole + 1 < values.Length ? values[whole] + ((at - whole) * (values[whole + 1] - values[whole])) : values[whole];
    }
}
