using System.Numerics;

namespace EarCoach.Core.Judging;

/// <summary>Sums of products of samples, several at once.</summary>
internal static class SampleProduct
{
    /// <summary>The sum of the products of two equally long stretches.</summary>
    public static double Of(ReadOnlySpan<float> a, ReadOnlySpan<float> b)
    {
        Vector<float> sums = Vector<float>.Zero;
        int i = 0;
        for (; i <= a.Length - Vector<float>.Count; i += Vector<float>.Count)
        {
            sums += new Vector<float>(a[i..]) * new Vector<float>(b[i..]);
        }

        double sum = Vector.Sum(sums);
        for (; i < a.Length; i++)
        {
            sum += a[i] * b[i];
        }

        return sum;
    }
}
