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
    private readonly int _halfHole;                 // all in steps
    private readonly int _hole;
    private readonly int _side;
    private readonly int _steps;
    private readonly double _meanSquare;            // of the distances from the centre
    private readonly double _squares;
    private readonly double _squaresAboutMean;      // of their squares

    /// <summary>Makes a shape.</summary>
    /// <param name="halfHole">From the centre of the hole to its edge, in steps.</param>
    /// <param name="edge">From the hole's edge to the sound beside it.</param>
    /// <param name="side">Length of that sound.</param>
    public StrokeShape(int halfHole, int edge, int side)
    {
        _halfHole = halfHole;
        _hole = (2 * halfHole) + 1;
        _side = side;
        Reach = halfHole + edge + side - 1;
        double[] beside = [.. Enumerable.Range(halfHole + edge, side).Select(o => (double)o * o)];
        double[] squares = [.. Enumerable.Range(-halfHole, _hole).Select(o => (double)o * o), .. beside, .. beside];
        _steps = squares.Length;
        _squares = squares.Sum();
        _meanSquare = _squares / _steps;
        _squaresAboutMean = squares.Sum(x => (x - _meanSquare) * (x - _meanSquare));
    }

    /// <summary>From the centre to the farthest sample that is looked at.</summary>
    public int Reach { get; }

    /// <summary>Measures the shape at one place.</summary>
    /// <param name="tracks">The note's harmonics.</param>
    /// <param name="sums">The same, each summed up.</param>
    /// <param name="level">The whole sound, summed up.</param>
    /// <param name="centre">The place, at least <see cref="Reach"/> from both ends.</param>
    public StrokeReading At(HarmonicTracks tracks, RunningSums[] sums, RunningSums level, int centre)
    {
        int kinds = tracks.Weights.Length;
        var falls = new double[kinds];
        double fall = 0, gain = 0;
        for (int k = 0; k < kinds; k++)
        {
            (TonePart before, TonePart hole, TonePart after) = Parts(sums[k], centre);
            double total = (_side * (before.Power + after.Power)) + (_hole * hole.Power);
            double steps = Math.Max(0, total - (_side * before.Coherent) - (_hole * hole.Coherent) - (_side * after.Coherent));
            double floor = (Floor * total) + 1e-18;
            double weight = tracks.Weights[k];
            double bent = Math.Max(0, total - Smooth(sums[k], (_side * (before.Mean + after.Mean)) + (_hole * hole.Mean), centre));
            gain += weight * Math.Clamp(Math.Log((bent + floor) / (steps + floor)), -MostLoss, MostGain);
            falls[k] = FallDb(before.Power, hole.Power, after.Power);
            fall += weight * Math.Clamp(falls[k], -MostRiseDb, MostFallDb);
        }

        (TonePart loudBefore, TonePart inside, TonePart loudAfter) = Parts(level, centre);
        return new StrokeReading(Math.Min(fall, FallDb(LevelOf(loudBefore), LevelOf(inside), LevelOf(loudAfter))), LowerQuartile(falls), gain);
    }

    private static double LevelOf(TonePart part) => Math.Max(0, part.Mean.Real); // in silence after loud sound the sums round below nothing

    private static double FallDb(double before, double inside, double after) => 10 * Math.Log10((Math.Min(before, after) + 1e-18) / (inside + 1e-18));

    private (TonePart Before, TonePart Hole, TonePart After) Parts(RunningSums sums, int centre) =>
        (sums.Part(centre - Reach, _side), sums.Part(centre - _halfHole, _hole), sums.Part(centre + Reach - _side + 1, _side));

    /// <summary>How much of the power a smooth course explains: a constant, a slope and a bend, at right angles to each other.</summary>
    private double Smooth(RunningSums sums, Complex sum, int centre)
    {
        (Complex slopeBefore, Complex bendBefore) = sums.Moments(centre - Reach, _side, centre);
        (Complex slopeInside, Complex bendInside) = sums.Moments(centre - _halfHole, _hole, centre);
        (Complex slopeAfter, Complex bendAfter) = sums.Moments(centre + Reach - _side + 1, _side, centre);
        Complex slope = slopeBefore + slopeInside + slopeAfter;
        Complex bend = bendBefore + bendInside + bendAfter - (_meanSquare * sum);
        return (HarmonicProbe.PowerOf(sum) / _steps) + (HarmonicProbe.PowerOf(slope) / _squares) + (HarmonicProbe.PowerOf(bend) / _squaresAboutMean);
    }

    private static double LowerQuartile(double[] values)
    {
        Array.Sort(values);
        double at = 0.25 * (values.Length - 1);
        int whole = (int)at;
        return whole + 1 < values.Length ? values[whole] + ((at - whole) * (values[whole + 1] - values[whole])) : values[whole];
    }
}
