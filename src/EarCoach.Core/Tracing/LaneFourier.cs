using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace EarCoach.Core.Tracing;

/// <summary>Discrete Fourier transforms of several complex sequences at once: each lane of a vector register holds one sequence.</summary>
/// <remarks>
/// Stockham's self-sorting form in passes of four and, where the size asks for it, a last pass of two. Lanes never meet, so a
/// sequence's result is the same whatever the others hold and however many lanes the processor has. Allocates nothing after construction.
/// Source: Van Loan (1992), Computational Frameworks for the Fast Fourier Transform, section 1.7 (title and section from memory).
/// </remarks>
internal sealed class LaneFourier
{
    private readonly float[] _cosines;
    private readonly float[] _sines;
    private readonly float[] _halfCosines; // of pi k / Size
    private readonly float[] _halfSines;
    private Vector<float>[] _workReal;
    private Vector<float>[] _workImaginary;

    /// <param name="size">Values in a sequence: a power of two, at least 4.</param>
    public LaneFourier(int size)
    {
        if (size < 4 || !BitOperations.IsPow2(size))
        {
            throw new ArgumentOutOfRangeException(nameof(size), size, "The size of a transform must be a power of two, at least 4.");
        }

        Size = size;
        Real = new Vector<float>[size];
        Imaginary = new Vector<float>[size];
        _workReal = new Vector<float>[size];
        _workImaginary = new Vector<float>[size];
        _cosines = new float[size];
        _sines = new float[size];
        _halfCosines = new float[size + 1];
        _halfSines = new float[size + 1];
        for (int k = 0; k <= size; k++)
        {
            (double sine, double cosine) = Math.SinCos(Math.PI * k / size);
            _halfCosines[k] = (float)cosine;
            _halfSines[k] = (float)sine;
        }

        for (int i = 0; i < size; i++)
        {
            (double sine, double cosine) = Math.SinCos(-2 * Math.PI * i / size);
            _cosines[i] = (float)cosine;
            _sines[i] = (float)sine;
        }
    }

    /// <summary>Values in a sequence.</summary>
    public int Size { get; }

    /// <summary>Real parts: what goes in, and after <see cref="Forward"/> what came out. Another array after each transform.</summary>
    public Vector<float>[] Real { get; private set; }

    /// <summary>Imaginary parts, likewise.</summary>
    public Vector<float>[] Imaginary { get; private set; }

    /// <summary>Sums of x(n) exp(-2 pi i k n / Size) over n, for every k.</summary>
    public void Forward()
    {
        int length = Size;
        int stride = 1;
        for (; length > 2; length /= 4, stride *= 4)
        {
            PassOfFour(length, stride);
            Swap();
        }

        if (length == 2)
        {
            PassOfTwo(stride);
            Swap();
        }
    }

    /// <summary>
    /// Power at point k of the spectrum of real sequences twice as long, whose even values were put in as real parts and odd ones as imaginary:
    /// |X(k)|^2 with X(k) = (Z(k) + Z*(-k)) / 2 - i exp(-i pi k / Size) (Z(k) - Z*(-k)) / 2.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector<float> PowerOfReal(int k)
    {
        int at = k & (Size - 1);
        int mirror = (Size - k) & (Size - 1);
        Vector<float> ar = Real[at];
        Vector<float> ai = Imaginary[at];
        Vector<float> br = Real[mirror];
        Vector<float> bi = Imaginary[mirror];
        Vector<float> oddR = ai + bi;
        Vector<float> oddI = br - ar;
        float c = _halfCosines[k];
        float s = _halfSines[k];
        Vector<float> r = ar + br + (oddR * c) + (oddI * s);
        Vector<float> i = ai - bi + (oddI * c) - (oddR * s);
        return ((r * r) + (i * i)) * 0.25f;
    }

    private void Swap()
    {
        (Real, _workReal) = (_workReal, Real);
        (Imaginary, _workImaginary) = (_workImaginary, Imaginary);
    }

    // Every index below is q + stride * m with q < stride and stride * m <= Size - stride, so all lie within the arrays.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void PassOfFour(int length, int stride)
    {
        ref Vector<float> xr = ref MemoryMarshal.GetArrayDataReference(Real);
        ref Vector<float> xi = ref MemoryMarshal.GetArrayDataReference(Imaginary);
        ref Vector<float> yr = ref MemoryMarshal.GetArrayDataReference(_workReal);
        ref Vector<float> yi = ref MemoryMarshal.GetArrayDataReference(_workImaginary);
        int quarter = length / 4;
        int step = stride * quarter;
        for (int p = 0; p < quarter; p++)
        {
            int turn = p * stride; // of Size, since Size = length * stride
            var w1r = new Vector<float>(_cosines[turn]);
            var w1i = new Vector<float>(_sines[turn]);
            var w2r = new Vector<float>(_cosines[2 * turn]);
            var w2i = new Vector<float>(_sines[2 * turn]);
            var w3r = new Vector<float>(_cosines[3 * turn]);
            var w3i = new Vector<float>(_sines[3 * turn]);
            nint from = stride * p;
            nint to = 4 * stride * p;
            for (nint q = 0; q < stride; q++)
            {
                nint at = from + q;
                Vector<float> ar = Unsafe.Add(ref xr, at);
                Vector<float> ai = Unsafe.Add(ref xi, at);
                Vector<float> br = Unsafe.Add(ref xr, at + step);
                Vector<float> bi = Unsafe.Add(ref xi, at + step);
                Vector<float> cr = Unsafe.Add(ref xr, at + (2 * step));
                Vector<float> ci = Unsafe.Add(ref xi, at + (2 * step));
                Vector<float> dr = Unsafe.Add(ref xr, at + (3 * step));
                Vector<float> di = Unsafe.Add(ref xi, at + (3 * step));
                Vector<float> acSumR = ar + cr;
                Vector<float> acSumI = ai + ci;
                Vector<float> acDifR = ar - cr;
                Vector<float> acDifI = ai - ci;
                Vector<float> bdSumR = br + dr;
                Vector<float> bdSumI = bi + di;
                Vector<float> bdDifR = br - dr;
                Vector<float> bdDifI = bi - di;
                Vector<float> s1R = acDifR + bdDifI; // minus i times (b - d)
                Vector<float> s1I = acDifI - bdDifR;
                Vector<float> s2R = acSumR - bdSumR;
                Vector<float> s2I = acSumI - bdSumI;
                Vector<float> s3R = acDifR - bdDifI;
                Vector<float> s3I = acDifI + bdDifR;
                nint into = to + q;
                Unsafe.Add(ref yr, into) = acSumR + bdSumR;
                Unsafe.Add(ref yi, into) = acSumI + bdSumI;
                Unsafe.Add(ref yr, into + stride) = (w1r * s1R) - (w1i * s1I);
                Unsafe.Add(ref yi, into + stride) = (w1r * s1I) + (w1i * s1R);
                Unsafe.Add(ref yr, into + (2 * stride)) = (w2r * s2R) - (w2i * s2I);
                Unsafe.Add(ref yi, into + (2 * stride)) = (w2r * s2I) + (w2i * s2R);
                Unsafe.Add(ref yr, into + (3 * stride)) = (w3r * s3R) - (w3i * s3I);
                Unsafe.Add(ref yi, into + (3 * stride)) = (w3r * s3I) + (w3i * s3R);
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void PassOfTwo(int stride)
    {
        for (int q = 0; q < stride; q++)
        {
            Vector<float> ar = Real[q];
            Vector<float> ai = Imaginary[q];
            Vector<float> br = Real[q + stride];
            Vector<float> bi = Imaginary[q + stride];
            _workReal[q] = ar + br;
            _workImaginary[q] = ai + bi;
            _workReal[q + stride] = ar - br;
            _workImaginary[q + stride] = ai - bi;
        }
    }
}
