using System.Numerics;

namespace EarCoach.Core.Judging;

/// <summary>What fits by least squares are made of.</summary>
internal static class LeastSquares
{
    /// <summary>Gram and Schmidt's base of the polynomials up to a degree.</summary>
    /// <param name="places">Where they are taken; more places than the degree.</param>
    /// <param name="degree">The highest power.</param>
    /// <returns>Each a unit vector over the places, all at right angles to each other.</returns>
    public static double[][] Polynomials(double[] places, int degree)
    {
        double[][] basis = [.. Enumerable.Range(0, degree + 1).Select(power => places.Select(x => Math.Pow(x, power)).ToArray())];
        for (int i = 0; i < basis.Length; i++)
        {
            for (int j = 0; j < i; j++)
            {
                double common = Dot(basis[i], basis[j]);
                basis[i] = [.. basis[i].Zip(basis[j], (a, b) => a - (common * b))];
            }

            double norm = Math.Sqrt(Dot(basis[i], basis[i]));
            basis[i] = [.. basis[i].Select(x => x / norm)];
        }

        return basis;
    }

    /// <summary>The scalar product.</summary>
    public static double Dot(double[] a, double[] b) => a.Zip(b, (x, y) => x * y).Sum();

    /// <summary>How much of a unit vector there is in a course.</summary>
    /// <param name="unit">The vector.</param>
    /// <param name="course">As long as it.</param>
    public static Complex Dot(double[] unit, ReadOnlySpan<Complex> course)
    {
        Complex sum = Complex.Zero;
        for (int i = 0; i < unit.Length; i++)
        {
            sum += course[i] * unit[i];
        }

        return sum;
    }
}
