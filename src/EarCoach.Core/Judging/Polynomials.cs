namespace EarCoach.Core.Judging;

/// <summary>Polynomials for fits by least squares.</summary>
internal static class Polynomials
{
    /// <summary>Gram and Schmidt's base of the polynomials up to a degree.</summary>
    /// <param name="places">Where they are taken; more places than the degree.</param>
    /// <param name="degree">The highest power.</param>
    /// <returns>Each a unit vector over the places, all at right angles to each other.</returns>
    public static double[][] Orthonormal(double[] places, int degree)
    {
        double[][] basis = [.. Enumerable.Range(0, degree + 1).Select(power => places.Select(x => Math.Pow(x, power)).ToArray())];
        for (int i = 0; i < basis.Length; i++)
        {
            for (int j = 0; j < i; j++)
            {
                double common = basis[i].Zip(basis[j], (a, b) => a * b).Sum();
                basis[i] = [.. basis[i].Zip(basis[j], (a, b) => a - (common * b))];
            }

            double norm = Math.Sqrt(basis[i].Sum(x => x * x));
            basis[i] = [.. basis[i].Select(x => x / norm)];
        }

        return basis;
    }
}
