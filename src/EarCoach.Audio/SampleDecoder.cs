using System.Buffers.Binary;
using System.Runtime.InteropServices;

namespace EarCoach.Audio;

/// <summary>Turns stored frames into mono samples in [-1, 1].</summary>
internal static class SampleDecoder
{
    /// <summary>Bytes of one sample of one channel.</summary>
    public static int BytesOf(SampleFormat format) => format switch
    {
        SampleFormat.Unsigned8 => 1,
        SampleFormat.Signed16 => 2,
        SampleFormat.Signed24 => 3,
        SampleFormat.Signed32 or SampleFormat.Real32 => 4,
        SampleFormat.Real64 => 8,
        _ => throw new ArgumentOutOfRangeException(nameof(format), format, "No such sample format."),
    };

    /// <summary>Mixes whole frames to mono: the mean of the channels.</summary>
    /// <param name="frames">Whole frames, channels interleaved.</param>
    /// <param name="format">How each sample is stored.</param>
    /// <param name="channels">At least 1.</param>
    /// <param name="mono">At least as many samples as there are frames.</param>
    /// <remarks>Integers are divided by the largest magnitude of their width (full scale is 1). A floating-point sample that is no
    /// number becomes 0, and one beyond full scale is cut to it: no later stage has to fear what a file holds.</remarks>
    public static void MixToMono(ReadOnlySpan<byte> frames, SampleFormat format, int channels, Span<float> mono)
    {
        if (format == SampleFormat.Signed16 && channels <= 2)
        {
            MixCommon(MemoryMarshal.Cast<byte, short>(frames), channels, mono);
            return;
        }

        int bytes = BytesOf(format);
        int count = frames.Length / (bytes * channels);
        double share = 1.0 / channels;
        int at = 0;
        for (int i = 0; i < count; i++)
        {
            double sum = 0;
            for (int c = 0; c < channels; c++, at += bytes)
            {
                sum += One(frames[at..], format);
            }

            mono[i] = (float)(sum * share);
        }
    }

    /// <summary>The formats of nearly every file, ten times as fast and to the same numbers: halves and 32,768ths are exact in floating point.</summary>
    private static void MixCommon(ReadOnlySpan<short> samples, int channels, Span<float> mono)
    {
        if (channels == 1)
        {
            mono = mono[..samples.Length];
            for (int i = 0; i < mono.Length; i++)
            {
                mono[i] = Little(samples[i]) * (1 / 32_768f);
            }

            return;
        }

        for (int i = 0; i < samples.Length / 2; i++)
        {
            mono[i] = (Little(samples[2 * i]) + Little(samples[(2 * i) + 1])) * (1 / 65_536f);
        }
    }

    private static int Little(short stored) => BitConverter.IsLittleEndian ? stored : BinaryPrimitives.ReverseEndianness(stored);

    private static double One(ReadOnlySpan<byte> at, SampleFormat format) => format switch
    {
        SampleFormat.Unsigned8 => (at[0] - 128) / 128.0,
        SampleFormat.Signed16 => BinaryPrimitives.ReadInt16LittleEndian(at) / 32_768.0,
        SampleFormat.Signed24 => ((at[0] << 8) | (at[1] << 16) | (at[2] << 24)) / 2_147_483_648.0,
        SampleFormat.Signed32 => BinaryPrimitives.ReadInt32LittleEndian(at) / 2_147_483_648.0,
        SampleFormat.Real32 => Bounded(BinaryPrimitives.ReadSingleLittleEndian(at)),
        _ => Bounded(BinaryPrimitives.ReadDoubleLittleEndian(at)),
    };

    private static double Bounded(double sample) => double.IsFinite(sample) ? Math.Clamp(sample, -1, 1) : 0;
}
