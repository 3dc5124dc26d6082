using NWaves.Transforms;

namespace EarCoach.Core.Listening;

/// <summary>The one place that knows which library computes Fourier transforms.</summary>
internal sealed class FourierTransform(int size)
{
    private readonly RealFft _fft = new(size);

    /// <summary>Real samples each way.</summary>
    public int Size { get; } = size;

    /// <summary>Spectrum of <paramref name="samples"/> (Size long) into Size / 2 + 1 real and imaginary parts.</summary>
    public void Forward(ReadOnlySpan<float> samples, Span<float> real, Span<float> imaginary) => _fft.Direct(samples, real, imaginary);

    /// <summary>The samples again, times a constant.</summary>
    public void Backward(ReadOnlySpan<float> real, ReadOnlySpan<float> imaginary, Span<float> samples) => _fft.Inverse(real, imaginary, samples);
}
