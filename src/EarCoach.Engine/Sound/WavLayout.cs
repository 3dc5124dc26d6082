using System.Buffers.Binary;

namespace EarCoach.Engine.Sound;

/// <summary>The header of a WAV file of one channel of 16-bit PCM.</summary>
/// <remarks>Source: Multimedia Programming Interface and Data Specifications 1.0 (IBM and Microsoft, 1991), Waveform Audio File Format.</remarks>
public static class WavLayout
{
    /// <summary>How long the header is, in bytes; the samples follow it, little-endian.</summary>
    public const int HeaderBytes = 44;

    /// <summary>A file with its header, and room for so many samples after it.</summary>
    /// <param name="sampleCount">At least 0.</param>
    /// <param name="sampleRateHz">More than 0.</param>
    /// <exception cref="OverflowException">More than fits into one array.</exception>
    public static byte[] Begin(int sampleCount, int sampleRateHz)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(sampleCount);
        ArgumentOutOfRangeException.ThrowIfLessThan(sampleRateHz, 1);
        int dataBytes = checked(sampleCount * sizeof(short));
        byte[] file = new byte[checked(HeaderBytes + dataBytes)];
        Span<byte> header = file;
        "RIFF"u8.CopyTo(header);
        BinaryPrimitives.WriteInt32LittleEndian(header[4..], HeaderBytes - 8 + dataBytes);
        "WAVEfmt "u8.CopyTo(header[8..]);
        BinaryPrimitives.WriteInt32LittleEndian(header[16..], 16);
        BinaryPrimitives.WriteInt16LittleEndian(header[20..], 1); // PCM
        BinaryPrimitives.WriteInt16LittleEndian(header[22..], 1); // channels
        BinaryPrimitives.WriteInt32LittleEndian(header[24..], sampleRateHz);
        BinaryPrimitives.WriteInt32LittleEndian(header[28..], checked(sampleRateHz * sizeof(short)));
        BinaryPrimitives.WriteInt16LittleEndian(header[32..], sizeof(short));
        BinaryPrimitives.WriteInt16LittleEndian(header[34..], 16);
        "data"u8.CopyTo(header[36..]);
        BinaryPrimitives.WriteInt32LittleEndian(header[40..], dataBytes);
        return file;
    }
}
