using System.Buffers.Binary;

namespace EarCoach.Audio;

/// <summary>Writes short mono clips as 16-bit WAV.</summary>
public static class WavClipWriter
{
    private const int HeaderBytes = 44;

    /// <summary>The bytes of a WAV file with these samples.</summary>
    /// <param name="samples">Mono, in [-1, 1]; beyond that they are cut to full scale, and what is no number becomes 0.</param>
    /// <param name="sampleRateHz">More than 0.</param>
    /// <remarks>Source of the layout: RIFF WAVE, "Multimedia Programming Interface and Data Specifications 1.0" (1991), PCM format chunk.</remarks>
    public static byte[] ToBytes(ReadOnlySpan<float> samples, int sampleRateHz)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(sampleRateHz, 1);
        int dataBytes = checked(samples.Length * 2);
        byte[] bytes = new byte[checked(HeaderBytes + dataBytes)];
        Span<byte> at = bytes;
        "RIFF"u8.CopyTo(at);
        BinaryPrimitives.WriteInt32LittleEndian(at[4..], HeaderBytes - 8 + dataBytes);
        "WAVEfmt "u8.CopyTo(at[8..]);
        BinaryPrimitives.WriteInt32LittleEndian(at[16..], 16);
        BinaryPrimitives.WriteInt16LittleEndian(at[20..], 1);
        BinaryPrimitives.WriteInt16LittleEndian(at[22..], 1);
        BinaryPrimitives.WriteInt32LittleEndian(at[24..], sampleRateHz);
        BinaryPrimitives.WriteInt32LittleEndian(at[28..], checked(sampleRateHz * 2));
        BinaryPrimitives.WriteInt16LittleEndian(at[32..], 2);
        BinaryPrimitives.WriteInt16LittleEndian(at[34..], 16);
        "data"u8.CopyTo(at[36..]);
        BinaryPrimitives.WriteInt32LittleEndian(at[40..], dataBytes);
        at = at[HeaderBytes..];
        for (int i = 0; i < samples.Length; i++)
        {
            float sample = float.IsFinite(samples[i]) ? samples[i] : 0;
            BinaryPrimitives.WriteInt16LittleEndian(at[(2 * i)..], (short)Math.Clamp(MathF.Round(sample * 32_768f), short.MinValue, short.MaxValue));
        }

        return bytes;
    }

    /// <summary>Writes a WAV file: first beside it, then moved into place, so that nobody ever sees half a clip.</summary>
    /// <exception cref="IOException">The folder cannot be written to.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be written to.</exception>
    public static void Write(string path, ReadOnlySpan<float> samples, int sampleRateHz)
    {
        string partial = path + ".partial";
        File.WriteAllBytes(partial, ToBytes(samples, sampleRateHz));
        File.Move(partial, path, overwrite: true);
    }
}
